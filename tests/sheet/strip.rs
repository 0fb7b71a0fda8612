//! The strip on paper: which way turns grow, the offset's side, the tab.

use crate::common::*;

/// The sheets of a template without words of its owner's, with what is said of its saw.
fn sheets(template: &Template, saw: &[(&'static str, String)]) -> Packet {
    let order = Order {
        template,
        unit: Unit::Millimetre,
        label: "",
        link: LINK,
        date: "",
        paper: Paper::A4,
        printer: &Printer::default(),
        saw,
    };
    lay_out(&order).unwrap()
}

/// Zero line, mark line and the cut line of a packet of one upright sheet, in paper coordinates.
struct OnPaper {
    zero_x: f64,
    full_x: f64,
    mark_y: f64,
    cut: Vec<Point>,
}

fn on_paper(page: &Drawing) -> OnPaper {
    let zeros: Vec<f64> = strokes(page, Layer::Zero)
        .iter()
        .map(|(_, p)| p[0].x)
        .collect();
    let mark = strokes(page, Layer::Mark);
    OnPaper {
        zero_x: zeros.iter().copied().fold(f64::MIN, f64::max),
        full_x: zeros.iter().copied().fold(f64::MAX, f64::min),
        mark_y: mark[0].1[0].y,
        cut: strokes(page, Layer::Cut)
            .iter()
            .chain(&strokes(page, Layer::Trim))
            .flat_map(|(_, points)| points.iter().copied())
            .collect(),
    }
}

#[test]
fn a_larger_turn_is_further_left_and_the_cut_is_at_the_top() {
    for case in [USUAL, cases()[1], cases()[9]] {
        let template = case.template();
        let packet = packet(case);
        assert_eq!(packet.pages.len(), 1);
        let paper = on_paper(&packet.pages[0]);
        let width = template.wrap().width().mm();
        assert!((paper.zero_x - paper.full_x - width).abs() < 1e-9);
        for point in &paper.cut {
            let turn = Angle::FULL * ((paper.zero_x - point.x) / width);
            let height = template.station(turn).point.above_mark.mm();
            assert!((paper.mark_y - point.y - height).abs() < 1e-6);
        }
        let labels: Vec<f64> = ["0°", "90°", "180°", "270°", "360°"]
            .map(|wanted| {
                let found = packet.pages[0].items.iter().find_map(|item| match item {
                    Item::Text { at, text, .. } if text == wanted => Some(at.x),
                    _ => None,
                });
                found.unwrap()
            })
            .to_vec();
        assert!(
            labels.windows(2).all(|pair| pair[0] > pair[1]),
            "{labels:?}"
        );
    }
}

#[test]
fn the_offset_is_told_by_the_line_on_whose_side_the_main_lies() {
    // The main reaches further up the branch on the side where its axis lies.
    for (offset, heel, side, other) in [
        (5.0, 0.0, 90.0, 270.0),
        (-5.0, 0.0, 270.0, 90.0),
        (5.0, 30.0, 120.0, 300.0),
        (-5.0, 300.0, 210.0, 30.0),
    ] {
        let case = Case {
            offset,
            heel,
            ..USUAL
        };
        let template = case.template();
        let height = |deg: f64| template.station(Angle::from_deg(deg)).point.above_mark;
        assert!(height(side) < height(other));
        let text = words(&packet(case).pages[0]);
        let told = format!("5 mm, main towards the {side}° line");
        assert!(text.contains(&told), "{told} not in {text}");
    }
}

#[test]
fn the_tab_repeats_the_first_lines() {
    for case in [USUAL, cases()[1], cases()[2], cases()[4], cases()[9]] {
        let template = case.template();
        let packet = packet(case);
        let page = &packet.pages[0];
        let paper = on_paper(page);
        let width = template.wrap().width().mm();
        let repeated: Vec<Point> = strokes(page, Layer::Tab)
            .iter()
            .flat_map(|(_, points)| points.iter().copied())
            .collect();
        let end = repeated.iter().map(|p| p.x).fold(f64::MAX, f64::min);
        let tab = paper.full_x - end;
        assert!((3.0..=12.0).contains(&tab) || tab <= width * 0.5, "{tab}");
        for point in &repeated {
            let turn = Angle::FULL * ((paper.full_x - point.x) / width);
            let height = template.station(turn).point.above_mark.mm();
            // The last point is on a chord of the first line, not on the curve.
            assert!((paper.mark_y - point.y - height).abs() < 0.02);
        }
        let firsts = paper.cut.iter().filter(|p| paper.zero_x - p.x < tab - 1e-6);
        for first in firsts {
            let again = Point::new(first.x - width, first.y);
            assert!(
                repeated
                    .iter()
                    .any(|p| (p.x - again.x).hypot(p.y - again.y) < 1e-9),
                "{first:?}"
            );
        }
    }
}

/// The dashed line of a pre-cut stays above the cut line on paper, and the words say what it is.
#[test]
fn the_pre_cut_runs_clear_of_the_cut() {
    use copewright::job::AtHand;
    use copewright::job::saw::{PRE_CUT_CLEARANCE, plan_end, pre_cut_on_paper, read_tools};
    use copewright::piece::Side;

    let (tools, _) = read_tools(&AtHand::default(), Unit::Millimetre);
    let mut seen = 0;
    for angle in [35.0, 45.0, 60.0] {
        for heel in [0.0, 140.0] {
            let case = Case {
                angle,
                heel,
                ..USUAL
            };
            let template = case.template();
            let clear = PRE_CUT_CLEARANCE;
            let plan = plan_end(&template, Side::A, None, Unit::Millimetre, &tools, clear);
            if plan.pre_cut.is_none() {
                continue;
            }
            let line = pre_cut_on_paper(&template, &plan);
            let template = template.with_pre_cut(line);
            let packet = sheets(&template, &[]);
            let paper = on_paper(&packet.pages[0]);
            let width = template.wrap().width().mm();
            let mut longest = 0.0_f64;
            for (_, points) in strokes(&packet.pages[0], Layer::PreCut) {
                seen += 1;
                for point in points {
                    let turn = Angle::FULL * ((paper.zero_x - point.x) / width);
                    let cut = paper.mark_y - template.station(turn).point.above_mark.mm();
                    let room = cut - point.y;
                    assert!(room > clear.mm() - 0.02, "{angle}°, turn {turn:?}: {room}");
                    longest = longest.max(room);
                }
            }
            // It is a line of its own, not the cut moved out.
            assert!(longest > 1.5 * clear.mm(), "{angle}°: {longest}");
            let said = packet.pages[0].items.iter().any(
                |item| matches!(item, Item::Text { text, .. } if text.contains("dashed line")),
            );
            assert!(said, "nothing is said of the dashed line");
        }
    }
    assert!(seen >= 6, "{seen}");
}

/// Whether a straight cut is an order or may be left is said as the plan says it; where it goes is
/// said in numbers, and its line has a name and dashes of its own.
#[test]
fn the_pre_cut_is_named_and_is_an_order_only_where_it_must_be() {
    use copewright::job::saw::{
        Method, PRE_CUT_CLEARANCE, plan_end, pre_cut_on_paper, read_tools, saw_facts, saw_on_sheet,
    };
    use copewright::job::{AtHand, SawTyped};
    use copewright::piece::Side;

    let own = |depth: &str| AtHand {
        saws: vec![SawTyped {
            diameter: "48.3".into(),
            depth: depth.into(),
            ..SawTyped::default()
        }],
        ..AtHand::default()
    };
    let mut methods = Vec::new();
    for (angle, depth) in [(60.0, "90"), (35.0, "70"), (60.0, "12")] {
        let case = Case {
            angle,
            heel: 140.0,
            ..USUAL
        };
        let template = case.template();
        let (tools, _) = read_tools(&own(depth), Unit::Millimetre);
        let clear = PRE_CUT_CLEARANCE;
        let plan = plan_end(&template, Side::A, None, Unit::Millimetre, &tools, clear);
        let line = pre_cut_on_paper(&template, &plan);
        let saw = saw_on_sheet(&plan, &template);
        let facts = saw_facts(&plan, &template);
        let template = template.with_pre_cut(line);
        let packet = sheets(&template, &saw);
        let said: String = packet.pages.iter().map(|page| words(page) + " ").collect();
        let ordered = said.contains("Straight along the long-dashed line first");
        let offered = said.contains("You may cut straight along the long-dashed line first, or");
        let must = plan.method == Method::SawAfterPreCut;
        assert_eq!(
            [ordered, offered],
            [must, !must],
            "{:?}: {said}",
            plan.method
        );
        assert_eq!(said.contains("Pre-cut first"), must, "{said}");
        // The numbers of the page.
        let row = |label: &str| &facts.iter().find(|fact| fact.label == label).unwrap().value;
        let whole = format!(
            "{} off square, deepest {} from the mark line on line 140°",
            row("Pre-cut, off square"),
            row("Pre-cut, deepest from the mark line")
        );
        assert!(said.contains(&whole), "“{whole}” not in {said}");
        assert_eq!(
            said.matches("straight pre-cut").count(),
            1 + usize::from(must),
            "{said}"
        );
        for (pen, _) in strokes(&packet.pages[0], Layer::PreCut) {
            assert_eq!(pen, Pen::PRE_CUT);
        }
        methods.push(plan.method);
    }
    assert_eq!(
        methods,
        [Method::SawAsItIs, Method::SawAfterPreCut, Method::Grinder]
    );
    let long = Pen::PRE_CUT.pattern.dashes();
    let short = Pen::TRIM.pattern.dashes();
    assert!(
        long.iter()
            .zip(short)
            .all(|(long, short)| *long >= 2.0 * short)
    );
}

/// Words name the line of the straight cut; they do not take its place.
#[test]
fn words_leave_most_of_a_short_pre_cut_to_be_seen() {
    use copewright::job::saw::{PRE_CUT_CLEARANCE, plan_end, pre_cut_on_paper, read_tools};
    use copewright::job::{AtHand, SawTyped};
    use copewright::piece::Side;

    let far = |points: &[Point]| -> f64 {
        let steps = points.windows(2);
        steps
            .map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y))
            .sum()
    };
    let at_hand = AtHand {
        saws: vec![SawTyped {
            diameter: "57.15".into(),
            depth: "38.1".into(),
            ..SawTyped::default()
        }],
        ..AtHand::default()
    };
    let (tools, _) = read_tools(&at_hand, Unit::Millimetre);
    let mut shortest = f64::INFINITY;
    for (offset, angle) in [
        (12.0, 85.0),
        (0.0, 85.0),
        (9.5, 60.0),
        (-9.5, 60.0),
        (12.0, 75.0),
        (0.0, 90.0),
        (3.0, 45.0),
    ] {
        let case = Case {
            branch: 31.75,
            wall: 2.108,
            method: CutMethod::Square,
            heel: 0.0,
            main: 57.15,
            offset,
            angle,
        };
        let template = case.template();
        let clear = PRE_CUT_CLEARANCE;
        let plan = plan_end(&template, Side::A, None, Unit::Millimetre, &tools, clear);
        if plan.pre_cut.is_none() {
            continue;
        }
        let line = pre_cut_on_paper(&template, &plan);
        let whole: f64 = line
            .iter()
            .map(|run| {
                let place = |p: &copewright::piece::PaperPoint| {
                    Point::new(p.around.mm(), p.above_mark.mm())
                };
                far(&run.points.iter().map(place).collect::<Vec<_>>())
            })
            .sum();
        let template = template.with_pre_cut(line);
        let packet = sheets(&template, &[]);
        crate::pages::assert_apart(&packet.pages[0]);
        let seen: f64 = strokes(&packet.pages[0], Layer::PreCut)
            .iter()
            .map(|(_, points)| far(points))
            .sum();
        shortest = shortest.min(whole);
        assert!(
            seen > 0.6 * whole,
            "{offset} mm, {angle}°: {seen} of {whole} mm"
        );
    }
    assert!(shortest < 40.0, "none is short: {shortest}");
}
