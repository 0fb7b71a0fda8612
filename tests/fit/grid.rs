//! An end pushed home looked at on a fine grid over its wall, on every kind of main and on several
//! at once: it touches, and lies nowhere in them.

use std::f64::consts::TAU;

use copewright::cope::fit::{Fit, Slip};
use copewright::cope::{Cope, CutMethod};
use copewright::units::{Angle, Length};
use proptest::prelude::*;

use crate::property::{any_cope, any_slip, mitred_cope};

/// Turns and wall radii of the grid.
const AROUND: u32 = 1800;
const ACROSS: u32 = 24;

/// How deep any of it may lie in a main, mm: where one main shows above another for less than the
/// degree between two turns that are looked at, it shows by less than this. One in some thousand
/// joints does (0.0004 mm); all others are within 1e-6 mm.
const DEEPEST: f64 = 1e-3;

/// How far the end lies off the mains, along the branch, at a place of the wall that comes down on
/// one: below 0 it lies in it.
fn off(cope: &Cope, fit: &Fit, rho: Length, turn: Angle) -> Option<f64> {
    let hit = cope.trace(rho, turn)?;
    Some((fit.cut_height(rho, turn) - fit.advance() - hit).mm())
}

/// Wall radii of what of the end can touch.
fn radii(cope: &Cope) -> Vec<Length> {
    let branch = cope.joint().branch();
    let (bore, outside) = (branch.bore_radius(), branch.outside_radius());
    if cope.method() == CutMethod::Bore {
        return vec![bore];
    }
    let across = |step: u32| bore + (outside - bore) * (f64::from(step) / f64::from(ACROSS));
    (0..=ACROSS).map(across).collect()
}

fn holds(cope: &Cope, slip: &Slip, phase: f64) -> Result<(), TestCaseError> {
    let Ok(fit) = Fit::new(cope, slip, Angle::ZERO) else {
        return Ok(());
    };
    let radii = radii(cope);
    for step in 0..AROUND {
        let turn = Angle::from_rad(TAU * (f64::from(step) + phase) / f64::from(AROUND));
        for rho in &radii {
            if let Some(off) = off(cope, &fit, *rho, turn) {
                prop_assert!(off >= -DEEPEST, "{off} at {} {rho:?}", turn.deg());
            }
        }
    }
    // A square cut's place within the wall is told by its middle alone.
    let contact = fit.contact();
    let branch = cope.joint().branch();
    let edges = [branch.outside_radius(), branch.bore_radius()];
    if edges.contains(&contact.radius) || cope.method() != CutMethod::Square {
        // A wall that only just meets a main has a step there, which is as upright as it is.
        let near = [-2e-7, 0.0, 2e-7].into_iter();
        let near = near.filter_map(|beside| {
            let turn = contact.turn + Angle::from_rad(beside);
            off(cope, &fit, contact.radius, turn)
        });
        let least = near.fold(f64::INFINITY, f64::min);
        prop_assert!(least <= 2e-3, "{least} at {contact:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn on_any_mains(cope in any_cope(), slip in any_slip(), phase in 0.0..1.0_f64) {
        let Some(cope) = cope else { return Ok(()) };
        holds(&cope, &Slip { scale: 1.0, ..slip }, phase)?;
    }

    #[test]
    fn on_a_mitre_and_beside_it(cope in mitred_cope(), slip in any_slip(), phase in 0.0..1.0_f64) {
        let Some(cope) = cope else { return Ok(()) };
        holds(&cope, &Slip { scale: 1.0, ..slip }, phase)?;
    }
}
