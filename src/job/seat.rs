//! One main of the form read: the fields of its kind, with every refusal beside its field.

use crate::job::reader::Reader;
use crate::job::{Field, MainField, MainKind};
use crate::joint::{
    Bend, JointError, Main, RectangularSection, check_angle, check_mitre_angle, usual_corner,
};
use crate::units::{Angle, Length, write_length};

/// The main of that number, counted from 0, in its place; `None` where something is wrong with it.
pub(super) fn read_main(reader: &mut Reader, number: usize) -> Option<Main> {
    let at = |field| Field::OfMain(number, field);
    let kind = reader.typed().kind(number);
    let own = match kind {
        MainKind::Round | MainKind::Mitre => {
            let diameter = reader.length(at(MainField::Diameter));
            diameter.map(|diameter| Own::Tube { diameter })
        }
        MainKind::Plate => Some(Own::Plate),
        MainKind::Rectangular => section(reader, number).map(Own::Section),
        MainKind::Bent => {
            let diameter = reader.length(at(MainField::Diameter));
            let bend = bend(reader, number);
            diameter
                .zip(bend)
                .map(|(diameter, bend)| Own::Bend { diameter, bend })
        }
    };
    let check = if kind == MainKind::Mitre {
        check_mitre_angle
    } else {
        check_angle
    };
    let angle = reader
        .angle(at(MainField::Angle))
        .filter(|angle| reader.taken(number, check(*angle)).is_some());
    let has_offset = kind.fields().contains(&MainField::Offset);
    let offset = if has_offset {
        reader.length_or(at(MainField::Offset), Length::ZERO)
    } else {
        Some(Length::ZERO)
    };
    let place = (number > 0).then(|| {
        let about = reader.angle(at(MainField::About));
        let shift = reader.length_or(at(MainField::Shift), Length::ZERO);
        about.zip(shift)
    });
    // Whatever else is wrong, a diameter out of range is told at once.
    let made = own.map(|own| {
        let main = own.at(
            kind,
            angle.unwrap_or(Angle::QUARTER),
            offset.unwrap_or_default(),
        );
        reader.taken(number, main)
    })?;
    angle?;
    offset?;
    match place {
        None => made,
        Some(place) => {
            let (about, shift) = place?;
            made.map(|main| main.turned(about).shifted(shift))
        }
    }
}

/// What the kind has of its own.
enum Own {
    Tube { diameter: Length },
    Plate,
    Section(RectangularSection),
    Bend { diameter: Length, bend: Bend },
}

impl Own {
    fn at(self, kind: MainKind, angle: Angle, offset: Length) -> Result<Main, JointError> {
        match self {
            Self::Tube { diameter } if kind == MainKind::Mitre => Main::mitre(diameter, angle),
            Self::Tube { diameter } => Main::round(diameter, angle, offset),
            Self::Plate => Main::plate(angle),
            Self::Section(section) => Main::rectangular(section, angle, offset),
            Self::Bend { diameter, bend } => Main::bent(diameter, bend, angle, offset),
        }
    }
}

/// A rectangular section; a corner that is not typed comes from the wall.
fn section(reader: &mut Reader, number: usize) -> Option<RectangularSection> {
    let at = |field| Field::OfMain(number, field);
    let width = reader.length(at(MainField::Width));
    let height = reader.length(at(MainField::Height));
    // The sides by themselves first: no corner fits a side that is out of range.
    let sides = width.zip(height).and_then(|(width, height)| {
        let sharp = RectangularSection::new(width, height, Length::ZERO, Angle::ZERO);
        reader.taken(number, sharp).map(|_| (width, height))
    });
    let corner = if reader.text(at(MainField::Corner)).is_empty() {
        let shorter = sides.map(|(width, height)| width.min(height));
        corner_of_wall(reader, number, shorter)
    } else {
        reader.length(at(MainField::Corner))
    };
    let roll = reader.angle_or_zero(at(MainField::Roll));
    let ((width, height), corner) = (sides?, corner?);
    reader.taken(
        number,
        RectangularSection::new(width, height, corner, roll?),
    )
}

/// The usual corner radius of the wall as typed, when it fits the shorter side.
fn corner_of_wall(reader: &mut Reader, number: usize, shorter: Option<Length>) -> Option<Length> {
    let field = Field::OfMain(number, MainField::Wall);
    let wall = reader.length(field)?;
    let unit = reader.typed().unit;
    if wall < Length::ZERO {
        let sentence = format!(
            "A wall of {} cannot be. Type the main’s wall, or its corner radius.",
            write_length(wall, unit)
        );
        reader.refuse(field, sentence);
        return None;
    }
    let corner = usual_corner(wall);
    match shorter {
        Some(shorter) if corner > shorter / 2.0 => {
            let sentence = format!(
                "A tube with a wall of {} usually has a corner radius of {}, more than half the \
                 shorter side, {}. Check the wall, or type the corner radius as measured.",
                write_length(wall, unit),
                write_length(corner, unit),
                write_length(shorter / 2.0, unit)
            );
            reader.refuse(field, sentence);
            None
        }
        _ => Some(corner),
    }
}

fn bend(reader: &mut Reader, number: usize) -> Option<Bend> {
    let at = |field| Field::OfMain(number, field);
    let radius = reader.length(at(MainField::BendRadius));
    let angle = reader.angle(at(MainField::BendAngle));
    let station = reader.length_or(at(MainField::Station), Length::ZERO);
    let facing = reader.angle(at(MainField::Facing));
    let made = Bend::new(radius?, angle?, station?, facing?);
    reader.taken(number, made)
}
