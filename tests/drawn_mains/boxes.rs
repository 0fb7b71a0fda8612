//! Places of the sketch's boxes: each dimension once, apart from the others and on the drawing.

use copewright::cope::CutMethod;
use copewright::joint::{Dimension, Shape};
use copewright::piece::{Template, Wrap};
use copewright::sheet::sketch::{self, BOX_HEIGHT, BOX_WIDTH, View};
use copewright::sheet::{Item, Point};
use copewright::units::Unit;
use proptest::prelude::*;

use crate::{Kind, Place, cope, deg, mm, place};

fn template(branch: f64, places: &[Place], method: CutMethod, heel: f64) -> Option<Template> {
    let cope = cope(branch, 0.06, places, method)?;
    let wrap = Wrap::computed(mm(branch), mm(0.1));
    Some(Template::new(cope, wrap, deg(heel), mm(5.0)))
}

/// The dimensions that a main of this shape has, by view: elevation, end view, bend view.
fn expected(shape: &Shape) -> [&'static [Dimension]; 3] {
    use Dimension::{
        Angle, BendAngle, BendRadius, Branch, Corner, Facing, Height, Main, Offset, Roll, Station,
        Wall, Width,
    };
    match shape {
        Shape::Round { .. } => [&[Main, Branch, Wall, Angle], &[Offset], &[]],
        Shape::Plate => [&[Branch, Wall, Angle], &[], &[]],
        Shape::Mitre { .. } => [&[Main, Branch, Wall, Angle], &[], &[]],
        Shape::Rectangular(_) => [
            &[Branch, Wall, Angle],
            &[Width, Height, Corner, Roll, Offset],
            &[],
        ],
        Shape::Bent { .. } => [
            &[Main, Branch, Wall, Angle],
            &[Offset, Facing],
            &[BendRadius, BendAngle, Station],
        ],
    }
}

fn tidy(name: &str, view: &View, wanted: &[Dimension]) -> Result<(), TestCaseError> {
    let (width, height) = (view.drawing.width, view.drawing.height);
    prop_assert_eq!(view.boxes.len(), wanted.len(), "{}: {:?}", name, view.boxes);
    for of in wanted {
        let count = view.boxes.iter().filter(|(is, _)| is == of).count();
        prop_assert_eq!(count, 1, "{}: {:?}", name, of);
    }
    for (index, (of, at)) in view.boxes.iter().enumerate() {
        let inside = at.x >= BOX_WIDTH / 2.0
            && at.x <= width - BOX_WIDTH / 2.0
            && at.y >= BOX_HEIGHT / 2.0
            && at.y <= height - BOX_HEIGHT / 2.0;
        prop_assert!(inside, "{}: {:?} at {:?} leaves the drawing", name, of, at);
        for (other, place) in &view.boxes[..index] {
            let apart = (at.x - place.x).abs() >= BOX_WIDTH || (at.y - place.y).abs() >= BOX_HEIGHT;
            prop_assert!(apart, "{}: {:?} covers {:?}", name, of, other);
        }
    }
    for item in &view.drawing.items {
        let points: &[Point] = match item {
            Item::Stroke { points, .. } => points,
            Item::Text { at, .. } => std::slice::from_ref(at),
        };
        for point in points {
            // Leaders and axes may reach a little beyond; the drawing is cut off at its edge.
            let near = point.x > -0.5 * width && point.x < 1.5 * width;
            let level = point.y > -0.5 * height && point.y < 1.5 * height;
            prop_assert!(
                near && level,
                "{}: a line goes to {:?} in {:?}",
                name,
                point,
                item
            );
        }
    }
    Ok(())
}

/// All views of a joint, each with the boxes of its kind.
fn all_tidy(template: &Template) -> Result<(), TestCaseError> {
    // Every joint that is accepted has a template that ends somewhere.
    prop_assert!(template.mark_to_long().mm().is_finite());
    let joint = template.cope().joint().clone();
    let count = joint.mains().count();
    for (which, main) in joint.mains().enumerate() {
        let [elevation, end_view, bend_view] = expected(main.shape());
        let mut elevation = elevation.to_vec();
        if which > 0 {
            elevation.push(Dimension::Shift);
        }
        tidy("elevation", &sketch::elevation(template, which), &elevation)?;
        tidy("end view", &sketch::end_view(template, which), end_view)?;
        match sketch::bend_view(template, which) {
            Some(view) => tidy("bend view", &view, bend_view)?,
            None => prop_assert!(bend_view.is_empty()),
        }
        let about: &[Dimension] = if which > 0 { &[Dimension::About] } else { &[] };
        match sketch::round_view(template, which) {
            Some(view) => tidy("round view", &view, about)?,
            None => prop_assert!(count == 1),
        }
    }
    let unrolled = sketch::unrolled(template, Unit::Millimetre);
    prop_assert!(unrolled.height.is_finite());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn boxes_stand_apart_and_on_the_drawing(
        branch in prop_oneof![3.0..200.0_f64, 200.0..1500.0_f64],
        places in prop::collection::vec(place(), 1..4),
        method in prop::sample::select(CutMethod::ALL.to_vec()),
        heel in 0.0..360.0_f64,
    ) {
        let Some(template) = template(branch, &places, method, heel) else {
            return Ok(());
        };
        all_tidy(&template)?;
    }
}

#[test]
fn another_main_far_down_the_branch_stays_on_the_drawing() {
    // Found by the property above: two flat angles, and a plate twenty-two diameters down.
    let place = |kind, offset, turn, shift| Place {
        kind,
        angle: 5.0,
        offset,
        turn,
        shift,
    };
    let section = Kind::Rectangular(1.859_653_171_902_110_3, 1.198_451_722_779_82, 0.0, 90.0);
    let places = [
        place(section, -0.267_237_038_681_066, 0.0, 0.0),
        place(
            Kind::Plate,
            0.0,
            258.398_996_668_095_5,
            -22.596_345_631_645_125,
        ),
    ];
    all_tidy(&template(3.0, &places, CutMethod::Saw, 0.0).unwrap()).unwrap();
}

/// Letters of a drawing, joined.
fn words(view: &View) -> String {
    let texts = view.drawing.items.iter().filter_map(|item| match item {
        Item::Text { text, .. } => Some(text.as_str()),
        Item::Stroke { .. } => None,
    });
    texts.collect::<Vec<_>>().join("|")
}

#[test]
fn heel_and_toe_are_those_of_the_first_main() {
    let straight = |turn: f64, shift: f64| Place {
        kind: Kind::Round(1.2),
        angle: 60.0,
        offset: 0.0,
        turn,
        shift,
    };
    let places = [straight(0.0, 0.0), straight(120.0, 0.5)];
    let template = template(42.4, &places, CutMethod::Saw, 0.0).unwrap();
    let first = words(&sketch::elevation(&template, 0));
    let second = words(&sketch::elevation(&template, 1));
    assert!(first.contains("heel") && first.contains("toe"), "{first}");
    assert!(
        !second.contains("heel") && !second.contains("toe"),
        "{second}"
    );
    assert!(first.contains("main 1") && second.contains("main 2"));
}
