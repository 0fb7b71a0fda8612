//! The pre-cut on the unrolled template, for a dashed line.

use super::plan::EndPlan;
use crate::piece::{LINE_TOLERANCE, PaperPoint, PaperRun, Template};
use crate::units::{Angle, Length, limited};

/// Most chords once round.
const MOST: f64 = 2000.0;

/// The straight cut of a plan on its template, from the zero line leftwards, in as many runs as there
/// are where it crosses the blank of the template's line; where it lies beyond that one's end there is
/// nothing to cut, or no paper to say so. Within [`LINE_TOLERANCE`] of the cosine that it unrolls to.
#[must_use]
pub fn pre_cut_on_paper(template: &Template, plan: &EndPlan) -> Vec<PaperRun> {
    let Some(cut) = plan.pre_cut else {
        return Vec::new();
    };
    let end = plan.blank.end + plan.longer;
    let width = template.wrap().width();
    let radius = template.cope().joint().branch().outside_radius().mm();
    // A chord over Δ of a cosine of height A is off by A Δ² / 8 at most.
    let rise = radius * cut.off_square.rad().tan();
    let step = (8.0 * LINE_TOLERANCE.mm() / rise).sqrt();
    let steps = limited((std::f64::consts::TAU / step).ceil(), 24.0, MOST) as u32;
    let at = |step: u32| {
        let part = f64::from(step) / f64::from(steps);
        let height = cut.height(radius, Angle::FULL * part - template.heel_turn());
        (width * part, height)
    };
    let paper = |around: Length, height: Length| PaperPoint {
        around,
        above_mark: template.mark_to_centre() - height,
    };
    let mut runs: Vec<PaperRun> = Vec::new();
    let mut points: Vec<PaperPoint> = Vec::new();
    let mut close = |points: &mut Vec<PaperPoint>| {
        if points.len() > 1 {
            runs.push(PaperRun {
                beside: false,
                points: std::mem::take(points),
            });
        }
        points.clear();
    };
    let mut before: Option<(Length, Length)> = None;
    for (around, height) in (0..=steps).map(at) {
        let inside = height >= end;
        if let Some((from, low)) = before
            && inside != (low >= end)
        {
            let part = (end - low) / (height - low);
            points.push(paper(from + (around - from) * part, end));
            if !inside {
                close(&mut points);
            }
        }
        if inside {
            points.push(paper(around, height));
        }
        before = Some((around, height));
    }
    close(&mut points);
    runs
}
