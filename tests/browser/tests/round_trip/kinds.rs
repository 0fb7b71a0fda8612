//! What the other kinds of main are checked for, and how a case of theirs is written.

use browser_tests::fit::{Joint, Main, Seat, Strip};
use browser_tests::pdf::Pdf;
use browser_tests::printed::{Sheet, length_mm};
use browser_tests::solid::Shape;
use browser_tests::tape;

use crate::{FITS, MISFITS, SAME, beside, degrees, heel, offset_of_axes, printed, same_turn, told};

/// A link and what it means, lengths in mm and angles in degrees.
pub struct Case {
    pub name: &'static str,
    pub link: &'static str,
    /// Diameter and wall.
    pub branch: [f64; 2],
    pub mains: &'static [Lies],
    pub seat: Seat,
    pub gap: f64,
    pub heel: f64,
    /// How much of the turn passes beside all mains.
    pub beside: f64,
}

/// A main as it lies.
pub struct Lies {
    pub shape: Shape,
    pub angle: f64,
    /// Positive: towards the line a quarter turn after its acute side.
    pub offset: f64,
    /// Turn about the branch from main 1.
    pub about: f64,
    /// Moved into the branch's body.
    pub shift: f64,
}

/// A usual branch, fitted tight along its outside edge.
pub const PLAIN: Case = Case {
    name: "",
    link: "",
    branch: [42.4, 2.6],
    mains: &[],
    seat: Seat::Outside,
    gap: 0.0,
    heel: 0.0,
    beside: 0.0,
};

/// Square under the branch.
pub const SQUARE: Lies = Lies {
    shape: Shape::Plate,
    angle: 90.0,
    offset: 0.0,
    about: 0.0,
    shift: 0.0,
};

/// Prints the cases of a kind and sets every strip on its mains: as printed it must fit, printed
/// the wrong way round or set on the wrong line it must not.
pub fn check(kind: &str, cases: &'static [Case]) {
    let prints = printed(cases.iter().map(|case| case.link));
    let mut worst = 0.0_f64;
    let mut wrong = Vec::new();
    for (case, pdf) in cases.iter().zip(&prints) {
        match fit(case, pdf) {
            Ok(fit) => worst = worst.max(fit),
            Err(error) => wrong.push(error),
        }
    }
    println!("{kind}: {} joints, largest gap {worst:.4} mm", cases.len());
    assert!(wrong.is_empty(), "{kind}: {wrong:#?}");
}

fn fit(case: &Case, pdf: &Pdf) -> Result<f64, String> {
    let name = case.name;
    let sheets: Vec<Sheet> = pdf.pages.iter().map(Sheet::new).collect();
    let told = told(&sheets, name);
    let strip = tape::strip(&sheets);
    let says = told.length("Once round, edge to edge");
    assert!((strip.width() - says).abs() < SAME, "{name}: {says} round");
    let joint = joint(case, told);

    let fit = strip.fit(&joint);
    let covered = fit.covered * 360.0;
    println!(
        "{name:44} largest gap {:.4} mm over {covered:6.2}° of the turn, {} step(s)",
        fit.worst, fit.steps
    );
    if fit.worst > FITS {
        return Err(format!("{name}: {fit:?}"));
    }
    let wide = beside(pdf);
    if (covered + case.beside - 360.0).abs() > 0.1 || (wide - case.beside).abs() > 0.02 {
        return Err(format!(
            "{name}: {covered}° drawn, {wide}° beside by the words, {}° by the sizes",
            case.beside
        ));
    }
    for main in 0..joint.mains.len() {
        let mut without = joint.clone();
        without.mains.remove(main);
        if strip.fit(&without).worst < MISFITS {
            return Err(format!("{name}: nothing sits on main {}", main + 1));
        }
    }
    if !is_symmetric(case) {
        let worst = strip.mirrored().fit(&joint).worst;
        if worst < MISFITS {
            return Err(format!("{name} mirrored is only {worst} off"));
        }
    }
    if case.heel != 0.0 {
        let worst = turned_back(&strip, &joint);
        if worst < MISFITS {
            return Err(format!("{name} turned back is only {worst} off"));
        }
    }
    Ok(fit.worst)
}

fn turned_back(strip: &Strip, joint: &Joint) -> f64 {
    let mut wrong = joint.clone();
    wrong.heel = -joint.heel;
    for main in &mut wrong.mains {
        main.towards -= 2.0 * joint.heel;
    }
    strip.fit(&wrong).worst
}

/// The tubes of the link, standing as the sheet says.
fn joint(case: &Case, sheet: &Sheet) -> Joint {
    let name = case.name;
    let heel = heel(sheet);
    assert!(same_turn(heel, case.heel), "{name}: the heel is at {heel}°");
    let several = case.mains.len() > 1;
    let stand = |(number, main): (usize, &Lies)| {
        let words = several.then(|| {
            let caption = format!("Main {}", number + 1);
            let words = sheet.fact(&caption);
            words.unwrap_or_else(|| panic!("{name}: nothing of {caption}"))
        });
        let (offset, towards) = if number == 0 {
            let told = sheet.fact("Offset of the axes");
            told.map_or((0.0, 0.0), |told| offset_of_axes(&told))
        } else {
            let words = words.unwrap();
            let place = words.split_once(", turned ").unwrap().1;
            let place = place.split_once(", offset ");
            place.map_or((0.0, 0.0), |(_, told)| offset_of_axes(told))
        };
        assert!(
            (offset - main.offset.abs()).abs() < SAME,
            "{name}: main {} is {offset} mm off",
            number + 1
        );
        let side = case.heel + main.about + 90.0 * main.offset.signum();
        assert!(
            main.offset == 0.0 || same_turn(towards, side),
            "{name}: main {} towards {towards}°",
            number + 1
        );
        if number > 0 {
            check_place(
                name,
                &sheet.fact(&format!("Main {}", number + 1)).unwrap(),
                main,
            );
        }
        Main {
            shape: main.shape,
            angle: main.angle,
            offset: main.offset.abs(),
            towards,
            about: main.about,
            shift: main.shift,
        }
    };
    let [branch, wall] = case.branch;
    Joint {
        branch,
        wall,
        mains: case.mains.iter().enumerate().map(stand).collect(),
        heel: case.heel,
        seat: case.seat,
        gap: case.gap,
    }
}

/// A further main must be told where it is: "…, turned 180° from main 1, 5 mm up the branch".
fn check_place(name: &str, words: &str, main: &Lies) {
    let (_, place) = words.split_once(", turned ").unwrap();
    let (turned, rest) = place.split_once(" from main 1").unwrap();
    let turned = degrees(turned);
    assert!(same_turn(turned, main.about), "{name}: {words}");
    let way = [(" up the branch", 1.0), (" down the branch", -1.0)];
    let told = way.into_iter().find_map(|(way, sign)| {
        let length = rest.split_once(way)?.0.trim_start_matches(", ");
        Some(length_mm(length).unwrap() * sign)
    });
    let shift = told.unwrap_or_default();
    assert!((shift - main.shift).abs() < SAME, "{name}: {words}");
}

/// Whether the joint is its own mirror image in the plane through the branch's axis and the zero
/// line, so that a template printed the wrong way round fits as well.
fn is_symmetric(case: &Case) -> bool {
    let divides = |whole: f64, degrees: f64| degrees % whole == 0.0;
    let alone = |main: &Lies| {
        // A plate square under the branch, or a butt joint, is the same all round.
        let level = match main.shape {
            Shape::Plate => main.angle == 90.0,
            Shape::Mitre => main.angle == 180.0,
            _ => false,
        };
        level
            || (divides(180.0, case.heel)
                && divides(180.0, main.about)
                && main.offset == 0.0
                && match main.shape {
                    Shape::Round(_) | Shape::Plate | Shape::Mitre => true,
                    Shape::Rectangular {
                        width,
                        height,
                        roll,
                        ..
                    } => divides(if width == height { 45.0 } else { 90.0 }, roll),
                    Shape::Bent { facing, .. } => divides(180.0, facing),
                })
    };
    case.mains.iter().all(alone)
}
