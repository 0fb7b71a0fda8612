//! How a predicted fit is drawn under the unrolled cope.

use copewright::cope::CutMethod;
use copewright::cope::fit::Limits;
use copewright::job::fit::{FitField, fit_report, read_fit};
use copewright::sheet::sketch::unrolled;
use copewright::sheet::{Drawing, Item, Layer, Point, fit_strip};
use copewright::units::Unit;

use crate::mm;
use crate::said::{asked, draft};

fn strokes(drawing: &Drawing, wanted: Layer) -> Vec<Vec<Point>> {
    let own = |item: &Item| match item {
        Item::Stroke { layer, points, .. } if *layer == wanted => Some(points.clone()),
        _ => None,
    };
    drawing.items.iter().filter_map(own).collect()
}

#[test]
fn the_strip_lines_up_with_the_unrolled_cope_and_shows_the_gaps() {
    for unit in [Unit::Millimetre, Unit::Inch] {
        let draft = draft(unit, CutMethod::Saw);
        let text = if unit.is_inch() { "1.89" } else { "48" };
        let asked = read_fit(&asked(&[(FitField::Size, text)]), &draft).unwrap();
        let fit = fit_report(&draft, &asked).unwrap().fit;
        let limits = Limits {
            tight: mm(0.2),
            most: mm(0.8),
        };
        let above = unrolled(&draft.template, unit);
        let strip = fit_strip(&draft.template, &fit, &limits, unit);
        assert!((above.width - strip.width).abs() < 1e-12);
        let (line, base) = (
            &strokes(&above, Layer::Mark)[0],
            &strokes(&strip, Layer::Mark)[0],
        );
        for end in 0..2 {
            assert!((line[end].x - base[end].x).abs() < 1e-9);
        }
        // Every point of the curve is as high over its turn as the gap is wide.
        let (left, right, foot) = (base[0].x, base[1].x, base[0].y);
        let curve: Vec<Point> = strokes(&strip, Layer::Landing).concat();
        assert!(curve.len() >= 360);
        let widest = fit.widest().gap.mm();
        let tallest = curve.iter().map(|p| foot - p.y).fold(0.0, f64::max);
        for p in &curve {
            let turn = (right - p.x) / (right - left) * std::f64::consts::TAU;
            let from_heel = copewright::units::Angle::from_rad(turn) - draft.template.heel_turn();
            let gap = fit.at(from_heel).unwrap().mm();
            assert!(
                (foot - p.y - tallest * gap / widest).abs() < 0.01 * tallest,
                "{turn}"
            );
        }
        // Both bands are hatched, and nothing leaves the page.
        assert!(strokes(&strip, Layer::Quarter).len() > 20);
        for item in &strip.items {
            let points = match item {
                Item::Stroke { points, .. } => points.clone(),
                Item::Text { at, .. } => vec![*at],
            };
            for p in points {
                assert!(
                    p.x >= 0.0 && p.x <= strip.width && p.y >= 0.0 && p.y <= strip.height,
                    "{item:?}"
                );
            }
        }
        let words: Vec<&String> = strip
            .items
            .iter()
            .filter_map(|item| match item {
                Item::Text { text, .. } => Some(text),
                Item::Stroke { .. } => None,
            })
            .collect();
        assert!(words.iter().any(|word| word.starts_with("widest ")));
        if let Ok(to) = std::env::var("FIT_STRIP_SVG") {
            std::fs::write(&to, copewright::write::svg_document(&strip, "fit").unwrap()).unwrap();
            std::fs::write(
                format!("{to}.above.svg"),
                copewright::write::svg_document(&above, "fit").unwrap(),
            )
            .unwrap();
        }
    }
}

#[test]
fn a_line_leads_from_the_widest_gap_to_its_figure() {
    let draft = draft(Unit::Millimetre, CutMethod::Saw);
    let asked = read_fit(&asked(&[(FitField::Size, "48")]), &draft).unwrap();
    let fit = fit_report(&draft, &asked).unwrap().fit;
    let strip = fit_strip(&draft.template, &fit, &asked.limits, Unit::Millimetre);
    let figure = strip.items.iter().find_map(|item| match item {
        Item::Text { at, text, .. } if text.starts_with("widest ") => Some(*at),
        _ => None,
    });
    let figure = figure.unwrap();
    let curve = strokes(&strip, Layer::Landing).concat();
    let top = curve.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    // Straight up from the gap, and an end just below the foot of the words.
    let leads = |line: &Vec<Point>| {
        let [from, to] = line[..] else { return false };
        from.x == figure.x
            && to.x == figure.x
            && (from.y - top).abs() < 0.05
            && to.y > figure.y
            && to.y < figure.y + 1.5
    };
    assert!(
        strokes(&strip, Layer::Quarter).iter().any(leads),
        "{figure:?}, {top}"
    );
}
