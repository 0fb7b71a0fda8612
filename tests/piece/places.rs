//! Where the long and short points of a template are named.

use copewright::cope::{Cope, CutMethod};
use copewright::joint::{Joint, Main};
use copewright::piece::{Station, Template, Wrap};
use copewright::units::{Angle, Length};

use crate::{deg, mm, round, usual};

fn template(mains: [Main; 2], heel_turn: Angle) -> Template {
    let [first, second] = mains;
    let joint = Joint::new(usual(), first).unwrap().and(second).unwrap();
    let cope = Cope::new(&joint, CutMethod::Square, Length::ZERO).unwrap();
    let wrap = Wrap::computed(usual().outside(), mm(0.1));
    Template::new(cope, wrap, heel_turn, mm(40.0))
}

fn turns(stations: &[Station]) -> Vec<f64> {
    stations.iter().map(|station| station.turn.deg()).collect()
}

#[test]
fn a_level_stretch_has_one_short_point_at_its_middle() {
    // The crest of the second main is a straight line across the branch: an edge square to the
    // wall is held off by it at the same height over many degrees.
    let crossing = round(60.3, 90.0, 20.0).turned(deg(90.0));
    for heel in [0.0, 37.0, 215.0] {
        let template = template([round(48.3, 90.0, 0.0), crossing.clone()], deg(heel));
        assert!(template.cope().short_point().turns.len() > 1, "no stretch");
        let points = template.short_points();
        let [point] = points[..] else {
            panic!("{:?}", turns(&points))
        };
        let off = (point.turn - template.toe().turn).within_turn().deg();
        assert!(off.min(360.0 - off) < 1e-6, "{off}");
        let short = template.mark_to_short();
        assert!((point.point.above_mark - short).abs() < mm(1e-6));
    }
}

#[test]
fn points_that_a_slope_parts_stay_apart() {
    let same = [round(48.3, 90.0, 0.0), round(48.3, 90.0, 0.0)];
    let template = template(same, deg(0.0));
    assert_eq!(template.long_points().len(), 2);
    assert_eq!(template.short_points().len(), 2);
}
