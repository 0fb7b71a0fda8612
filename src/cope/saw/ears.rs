//! The ears that a saw narrower than the branch leaves standing.

use std::f64::consts::TAU;

use crate::cope::Cope;
use crate::cope::saw::reach::Blank;
use crate::joint::Shape;
use crate::units::{Angle, Length};

/// What a saw passes beside, on the outside of the tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ears {
    /// How many there are.
    pub count: usize,
    /// Area of all between the blank's end (or the pre-cut) and the line, mm².
    pub area_mm2: f64,
    /// Height of the tallest.
    pub tallest: Length,
}

/// Turns asked once round. The area of an ear is a smooth function of its edges, which are exact
/// to a turn's step.
const ROUND: u32 = 3600;
/// Ears lower than this are burr, mm.
const BURR: f64 = 0.05;

/// The ears that a saw of a diameter on the main's axis leaves above the line; `None` for a main
/// that is no single straight round tube.
#[must_use]
pub fn ears(cope: &Cope, saw: Length, blank: &Blank) -> Option<Ears> {
    let (joint, main) = (cope.joint(), cope.joint().main());
    if joint.mains().count() > 1 || !matches!(main.shape(), Shape::Round { .. }) {
        return None;
    }
    let rho = joint.branch().outside_radius().mm();
    let (reach, offset) = (saw.mm() / 2.0, main.offset().mm());
    let step = TAU / f64::from(ROUND);
    // None where the saw cuts.
    let height = |turn: f64| {
        let side = rho * (turn - main.turn().rad()).sin() - offset;
        (side.abs() > reach).then(|| {
            let angle = Angle::from_rad(turn);
            let cut = blank.pre_cut.map(|cut| cut.height(rho, angle));
            let floor = cut.map_or(blank.end, |cut| cut.max(blank.end));
            (cope.at(angle).height() - floor).mm().max(0.0)
        })
    };
    let heights: Vec<Option<f64>> = (0..ROUND)
        .map(|turn| height((f64::from(turn) + 0.5) * step))
        .collect();
    // Begin where the saw cuts, so that no ear is split in two by where counting begins.
    let begin = heights.iter().position(Option::is_none).unwrap_or_default();
    let (mut count, mut area, mut tallest, mut in_ear) = (0, 0.0, 0.0_f64, false);
    for at in 0..heights.len() {
        let Some(own) = heights[(begin + at) % heights.len()] else {
            in_ear = false;
            continue;
        };
        if own > BURR {
            count += usize::from(!in_ear);
            in_ear = true;
            area += own * rho * step;
            tallest = tallest.max(own);
        }
    }
    Some(Ears {
        count,
        area_mm2: area,
        tallest: Length::from_mm(tallest),
    })
}
