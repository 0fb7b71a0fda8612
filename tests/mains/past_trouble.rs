//! Joints that once came out wrong, kept by name.

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Bend, Joint, Main, RoundTube};
use copewright::units::Angle;

use crate::{deg, mm, seated, turns};

/// A thick wall on a gentle bend, all but square on its end: the top lay inside a stretch that was walked.
#[test]
fn a_top_inside_a_walked_stretch_is_found() {
    let bend = Bend::new(
        mm(1_105.319_390_549_790_6),
        Angle::from_rad(1.706_326_590_127_096),
        mm(943.017_933_339_092_1),
        deg(45.0),
    );
    let main_diameter = mm(2.0 * 111.201_636_463_978_39);
    let main = Main::bent(main_diameter, bend.unwrap(), deg(90.0), mm(0.0)).unwrap();
    let tube = RoundTube::new(mm(112.544_682_196_1), mm(43.493_404_257_643_16)).unwrap();
    let joint = Joint::new(tube, main).unwrap();
    let cope = Cope::new(&joint, CutMethod::Square, mm(0.0)).unwrap();
    let (long, short) = (cope.long_point().height, cope.short_point().height);
    for phi in turns(6_000) {
        let here = cope.at(Angle::from_rad(phi)).height();
        assert!(here <= short + mm(1e-5), "{here:?} over {short:?} at {phi}");
        assert!(here >= long - mm(1e-5), "{here:?} under {long:?} at {phi}");
    }
}

/// A small branch far beside a tight slight bend: where the wall has two tops, or ends in the gap
/// beside the main, the highest was passed over.
#[test]
fn the_highest_wall_radius_is_found_beside_a_tight_bend() {
    let bend = Bend::new(mm(7.04), deg(1.0), mm(0.0), deg(0.0)).unwrap();
    let main = Main::bent(mm(8.0), bend, deg(45.0), mm(4.0)).unwrap();
    let tube = RoundTube::new(mm(8.0), mm(2.309_382_023_505_574_6)).unwrap();
    let joint = Joint::new(tube, main).unwrap();
    let gap = mm(0.130_831_815_539_183_6);
    let cope = Cope::new(&joint, CutMethod::Square, gap).unwrap();
    let (bore, outside) = (tube.bore_radius(), tube.outside_radius());
    let mut met = 0;
    for phi in turns(720) {
        let turn = Angle::from_rad(phi);
        let best = (0..=400)
            .filter_map(|part| {
                let share = f64::from(part) / 400.0;
                cope.trace(bore + (outside - bore) * share, turn)
            })
            .fold(f64::NEG_INFINITY, |best, hit| best.max(hit.mm()));
        let line = seated(&cope, phi).unwrap_or(f64::NEG_INFINITY);
        assert!(best <= line + 1e-9, "{best} over {line} at {phi}");
        met += u32::from(best.is_finite());
    }
    assert!(met > 300, "only {met} turns meet the main");
}

/// Where a bent main comes into reach far up the branch, the line steps: both ends of the step stay
/// on the line, at one turn, though a chord over it would stray by no more than the tolerance.
#[test]
fn a_step_stays_upright() {
    let branch = RoundTube::new(mm(29.715_113_764_818_778), mm(4.257_680_044_369_713)).unwrap();
    let bend = Bend::new(
        mm(195.471_014_872_427_53),
        deg(43.766_984_492_002_89),
        mm(-17.874_559_814_513_862),
        deg(-29.212_488_982_980_403),
    )
    .unwrap();
    let main = Main::bent(
        mm(55.024_226_961_083_905),
        bend,
        deg(30.535_070_879_067_792),
        mm(17.863_923_029_286_39),
    )
    .unwrap();
    let joint = Joint::new(branch, main).unwrap();
    let cope = Cope::new(&joint, CutMethod::Square, mm(0.0)).unwrap();
    let width = branch.outside() * std::f64::consts::PI;
    let line = cope.line(Angle::ZERO, width, mm(0.01));
    let upright = line
        .iter()
        .flat_map(|run| run.points.windows(2))
        .any(|pair| {
            let (across, up) = (pair[1].turn - pair[0].turn, pair[1].height - pair[0].height);
            across.rad() < 1e-9 && (up.mm() - 76.765).abs() < 0.01
        });
    assert!(upright, "{line:?}");
}
