//! A job to look at and to try things on: the frame of a launching trolley for a rowing skiff.
//! `docs/demo.md` has the frame's layout, which every number here follows from.

use crate::job::list::Job;
use crate::job::{AtHand, BarTyped, MachineTyped, SawTyped, StockTyped, open_form};
use crate::units::Unit;

/// A piece as a link has it, without unit and paper, and whether its partner follows it.
type Row = (&'static str, bool);

/// The frame in millimetres: ISO 4200 sizes.
const METRIC: [Row; 11] = [
    (
        "label=axle beam&branch=60.3&wall=3.6&piece=yes&a=square&b=square&measured=overall&length=1240",
        false,
    ),
    (
        "label=drawbar&branch=48.3&wall=3.2&main=60.3&angle=90&cut=saw&piece=yes&a=coped&b=square&length=2500",
        false,
    ),
    (
        "label=upright&branch=42.4&wall=2.6&main=60.3&angle=90&cut=saw&piece=yes&count=2&length=380&b-kind=plate&b-angle=70&b-turn=0",
        false,
    ),
    (
        "label=brace&branch=33.7&wall=2.6&main=48.3&angle=30&offset=-7.3&piece=yes&length=692.8&b-main=60.3&b-angle=60&b-offset=7.3&b-cut=saw&b-turn=0",
        true,
    ),
    (
        "label=stay&branch=33.7&wall=2.6&main=48.3&angle=48.19&cut=saw&piece=yes&length=675&b-main=42.4&b-angle=70.53&b-cut=saw&b-turn=-71.57",
        true,
    ),
    (
        "label=knee&branch=33.7&wall=2.6&main=60.3&angle=45&cut=saw&piece=yes&count=2&length=424.3&b-main=42.4&b-angle=45&b-cut=saw&b-turn=0",
        false,
    ),
    (
        "label=keel post&branch=42.4&wall=2.6&mains=2&main=48.3&angle=90&main2=60.3&angle2=90&offset2=20&about2=90&piece=yes&length=260&b-kind=plate&b-angle=90&b-turn=0",
        false,
    ),
    (
        "label=bow post&branch=42.4&wall=2.6&main=48.3&angle=90&cut=saw&piece=yes&length=300&b-kind=plate&b-angle=60&b-turn=180",
        false,
    ),
    (
        "label=bow post stay&branch=33.7&wall=2.6&main=48.3&angle=45&cut=saw&piece=yes&length=282.8&gripa=60&gripb=60&b-main=42.4&b-angle=45&b-cut=saw&b-turn=0",
        false,
    ),
    (
        "label=handle&branch=33.7&wall=2.6&main=48.3&angle=60&turn=180&cut=saw&piece=yes&a=coped&b=square&straights=vertices&length=400&bends=1&bendangle1=60&bendradius1=120&outside1=0&straight1=260",
        false,
    ),
    (
        "label=handle stay&branch=26.9&wall=2.6&main=48.3&angle=60&cut=saw&piece=yes&length=381.4&b-kind=bent&b-main=33.7&b-clr=120&b-bend=60&b-station=0&b-facing=0&b-angle=90&b-turn=0",
        false,
    ),
];

/// The frame in inches: usual stock diameters.
const INCH: [Row; 11] = [
    (
        "label=axle beam&branch=2 1/4&wall=.120&piece=yes&a=square&b=square&measured=overall&length=48",
        false,
    ),
    (
        "label=drawbar&branch=2&wall=.120&main=2 1/4&angle=90&cut=saw&piece=yes&a=coped&b=square&length=98",
        false,
    ),
    (
        "label=upright&branch=1 3/4&wall=.095&main=2 1/4&angle=90&cut=saw&piece=yes&count=2&length=15&b-kind=plate&b-angle=70&b-turn=0",
        false,
    ),
    (
        "label=brace&branch=1 1/4&wall=.083&main=2&angle=30&offset=-3/8&piece=yes&length=27.713&b-main=2 1/4&b-angle=60&b-offset=3/8&b-cut=saw&b-turn=0",
        true,
    ),
    (
        "label=stay&branch=1 1/4&wall=.083&main=2&angle=48.19&cut=saw&piece=yes&length=27&b-main=1 3/4&b-angle=70.53&b-cut=saw&b-turn=-71.57",
        true,
    ),
    (
        "label=knee&branch=1 1/4&wall=.083&main=2 1/4&angle=45&cut=saw&piece=yes&count=2&length=16.971&b-main=1 3/4&b-angle=45&b-cut=saw&b-turn=0",
        false,
    ),
    (
        "label=keel post&branch=1 3/4&wall=.095&mains=2&main=2&angle=90&main2=2 1/4&angle2=90&offset2=3/4&about2=90&piece=yes&length=10 1/4&b-kind=plate&b-angle=90&b-turn=0",
        false,
    ),
    (
        "label=bow post&branch=1 3/4&wall=.095&main=2&angle=90&cut=saw&piece=yes&length=12&b-kind=plate&b-angle=60&b-turn=180",
        false,
    ),
    (
        "label=bow post stay&branch=1 1/4&wall=.083&main=2&angle=45&cut=saw&piece=yes&length=11.314&gripa=2 1/2&gripb=2 1/2&b-main=1 3/4&b-angle=45&b-cut=saw&b-turn=0",
        false,
    ),
    (
        "label=handle&branch=1 1/4&wall=.083&main=2&angle=60&turn=180&cut=saw&piece=yes&a=coped&b=square&straights=vertices&length=16&bends=1&bendangle1=60&bendradius1=4 1/2&outside1=0&straight1=10 1/4",
        false,
    ),
    (
        "label=handle stay&branch=1&wall=.065&main=2&angle=60&cut=saw&piece=yes&length=15.304&b-kind=bent&b-main=1 1/4&b-clr=4 1/2&b-bend=60&b-station=0&b-facing=0&b-angle=90&b-turn=0",
        false,
    ),
];

/// The demo job: in millimetres, or in inches in the unit given. All of it can be made.
#[must_use]
pub fn demo(unit: Unit) -> Job {
    let rows = if unit.is_inch() { &INCH } else { &METRIC };
    let mut job: Option<Job> = None;
    for (row, paired) in rows {
        let form = open_form(&format!("unit={}&{row}", unit.code())).form;
        let (more, id) = match job {
            None => (Job::of_form(form), 1),
            Some(job) => job.with_added(None, form),
        };
        job = Some(if *paired {
            more.with_partner(id).0
        } else {
            more
        });
    }
    let job = job.unwrap_or_else(|| Job::usual(unit));
    job.with_title("launching trolley")
        .with_at_hand(at_hand(unit.is_inch()))
}

/// What is in the shop. Saw depths and lives, kerf and trim: common practice, no source.
fn at_hand(inch: bool) -> AtHand {
    let pick = |mm: &str, inches: &str| String::from(if inch { inches } else { mm });
    let saw = |mm: &str, inches: &str, cuts: &str| SawTyped {
        name: [pick(mm, inches).as_str(), " saw"].concat(),
        diameter: pick(mm, inches),
        depth: pick("38", "1 1/2"),
        arbor: pick("16", "5/8"),
        cuts: cuts.into(),
        life: String::from("60"),
    };
    let bar = |outside: String, wall: String, count: &str| BarTyped {
        outside,
        wall,
        length: pick("6000", "20'"),
        count: count.into(),
    };
    AtHand {
        saws: vec![
            saw("60", "2 1/4", "14"),
            saw("48", "2", "31"),
            saw("43", "1 3/4", "6"),
        ],
        machine: MachineTyped {
            angle_max: String::from("50"),
            clamp: pick("60", "2 1/2"),
            behind: String::new(),
        },
        stock: StockTyped {
            bars: vec![
                bar(pick("60.3", "2 1/4"), pick("3.6", ".120"), "1"),
                bar(pick("48.3", "2"), pick("3.2", ".120"), "1"),
                bar(pick("42.4", "1 3/4"), pick("2.6", ".095"), "1"),
                bar(pick("33.7", "1 1/4"), pick("2.6", ".083"), "2"),
                bar(pick("26.9", "1"), pick("2.6", ".065"), ""),
            ],
            kerf: pick("2.5", "1/8"),
            end_trim: pick("10", "1/2"),
        },
        material: String::from("steel"),
        ..AtHand::default()
    }
}
