//! Templates among others on a sheet: each once, true to scale, clear of everything else.

use copewright::sheet::packet::Parts;
use proptest::prelude::*;

use super::jobs::{self, Job, NONE};
use crate::common::*;
use crate::pages::{assert_apart, assert_within};

const TEMPLATES: Parts = Parts {
    templates: true,
    ..NONE
};

/// Distances between all neighbouring points of a stroke, and from its first to its last one: the
/// same for a stroke that is only moved and turned.
fn steps(points: &[Point]) -> Vec<f64> {
    let apart = |a: Point, b: Point| (a.x - b.x).hypot(a.y - b.y);
    let neighbours = points.windows(2).map(|pair| apart(pair[0], pair[1]));
    let ends = apart(points[0], points[points.len() - 1]);
    neighbours.chain([ends]).collect()
}

/// Whether turns run the same way round in both strokes, so that neither is mirrored.
fn winding(points: &[Point]) -> f64 {
    points
        .windows(3)
        .map(|p| {
            let (a, b) = (
                (p[1].x - p[0].x, p[1].y - p[0].y),
                (p[2].x - p[1].x, p[2].y - p[1].y),
            );
            a.0 * b.1 - a.1 * b.0
        })
        .sum()
}

fn alike(a: &[Point], b: &[Point]) -> bool {
    a.len() == b.len()
        && steps(a)
            .iter()
            .zip(steps(b))
            .all(|(a, b)| (a - b).abs() < 1e-6)
        && (winding(a) - winding(b)).abs() < 1e-6
}

/// The cut line of a template as points on paper, right to left and down.
fn cut_lines(template: &Template) -> Vec<Vec<Point>> {
    let runs = template.line();
    let runs = runs.iter().filter(|run| !run.beside);
    runs.map(|run| {
        let points = run.points.iter();
        let place =
            |p: &copewright::piece::PaperPoint| Point::new(-p.around.mm(), -p.above_mark.mm());
        points.map(place).collect()
    })
    .collect()
}

/// Every template of a job is on exactly one sheet, in the lines that the template itself has.
fn assert_once_and_true(job: &Job, packet: &Packet) {
    let drawn: Vec<&[Point]> = packet
        .pages
        .iter()
        .flat_map(|page| strokes(page, Layer::Cut))
        .map(|(_, points)| points)
        .collect();
    let mut wanted = 0;
    for piece in &job.pieces {
        for (side, template) in piece.templates() {
            for line in cut_lines(template) {
                wanted += 1;
                let same = drawn.iter().filter(|points| alike(points, &line)).count();
                // Two ends may have the same line.
                assert!(same >= 1, "{}, {}", piece.label, side.name());
            }
        }
    }
    assert_eq!(drawn.len(), wanted);
    let all: Vec<String> = packet.pages.iter().map(words).collect();
    for (at, piece) in job.pieces.iter().enumerate() {
        for (side, _) in piece.templates() {
            let title = format!("Piece {} of {}: ", at + 1, job.pieces.len());
            let name = if piece.draft.is_some() {
                format!("{}, {}", piece.label, side.name())
            } else {
                piece.label.clone()
            };
            let on = all.iter().filter(|words| {
                let from = words.match_indices(&title);
                from.into_iter()
                    .any(|(from, _)| words[from + title.len()..].starts_with(&name))
            });
            assert_eq!(on.count(), 1, "{title}{name}");
        }
    }
}

/// The room that each strip takes, from its mark line up to its line, which is drawn behind it.
fn strips(page: &Drawing) -> Vec<(f64, f64, f64, f64)> {
    let mut strips = Vec::new();
    for item in &page.items {
        let Item::Stroke { layer, points, .. } = item else {
            continue;
        };
        if *layer == Layer::Mark {
            strips.push((f64::MAX, f64::MAX, f64::MIN, f64::MIN));
        }
        if let (Layer::Mark | Layer::Cut | Layer::Trim, Some(strip)) = (layer, strips.last_mut()) {
            *strip = points.iter().fold(*strip, |(x0, y0, x1, y1), p| {
                (x0.min(p.x), y0.min(p.y), x1.max(p.x), y1.max(p.y))
            });
        }
    }
    strips
}

/// Strips lie clear of each other.
fn assert_strips_apart(page: &Drawing) {
    let strips = strips(page);
    for (i, a) in strips.iter().enumerate() {
        for b in &strips[i + 1..] {
            let over = a.0 < b.2 && b.0 < a.2 && a.1 < b.3 && b.1 < a.3;
            assert!(!over, "{a:?} over {b:?}");
        }
    }
}

#[test]
fn every_template_is_on_one_sheet_at_true_scale() {
    for (job, paper) in [
        (jobs::trolley(), Paper::A4),
        (jobs::in_inches(), Paper::Letter),
        (jobs::random(1, 30, (42.4, 2.6)), Paper::A4),
        (jobs::random(2, 6, (60.3, 3.0)), Paper::Letter),
        (jobs::random(4, 1, (33.7, 2.6)), Paper::A4),
        (jobs::random(5, 8, (12.0, 1.0)), Paper::Letter),
    ] {
        let packet = job.print(paper, &printer(), TEMPLATES).unwrap();
        assert_once_and_true(&job, &packet);
        for page in &packet.pages {
            assert_within(page, 10.0);
            assert_apart(page);
            assert_strips_apart(page);
            let (across, along) = rulers(page);
            assert_close(&across, &[100.0, 101.6]);
            assert_close(&along, &[100.0, 101.6]);
        }
    }
}

#[test]
fn nesting_saves_paper() {
    for (seed, pieces, tube, most) in [
        // Two of each sheet's templates at least, of a tube that is a sheet wide once round.
        (1, 30, (42.4, 2.6), 30),
        (2, 12, (60.3, 3.0), 24),
        (3, 12, (21.3, 2.0), 6),
    ] {
        let job = jobs::random(seed, pieces, tube);
        let packet = job.print(Paper::A4, &printer(), TEMPLATES).unwrap();
        let templates: usize = job.pieces.iter().map(|own| own.templates().len()).sum();
        let one_by_one: usize = job
            .pieces
            .iter()
            .flat_map(super::jobs::OwnPiece::templates)
            .map(|(_, template)| {
                let order = Order {
                    template,
                    unit: job.unit,
                    label: "",
                    link: "",
                    date: "",
                    paper: Paper::A4,
                    printer: &printer(),
                    saw: &[],
                };
                lay_out(&order).unwrap().pages.len()
            })
            .sum();
        assert!(packet.pages.len() <= one_by_one);
        assert!(packet.pages.len() <= most, "{}", packet.pages.len());
        assert!(templates >= 2 * pieces as usize);
    }
}

#[test]
fn what_is_larger_than_a_sheet_is_tiled_as_ever() {
    let job = jobs::random(3, 2, (219.1, 6.3));
    let packet = job.print(Paper::A4, &printer(), TEMPLATES).unwrap();
    let mut alone = 0;
    for (at, piece) in job.pieces.iter().enumerate() {
        for (side, template) in piece.templates() {
            let title = format!("{} · {}, {}", at + 1, piece.label, side.name());
            let order = Order {
                template,
                unit: job.unit,
                label: &title,
                link: &piece.link,
                date: "14 May 2026",
                paper: Paper::A4,
                printer: &printer(),
                saw: &[],
            };
            let tiles = lay_out(&order).unwrap();
            let own: Vec<_> = packet
                .pages
                .iter()
                .filter(|page| texts(page).contains(&title.as_str()))
                .collect();
            // On a tile the name may stand on the strip only; all its cuts are there.
            let cuts = |page: &Drawing| -> Vec<Vec<Point>> {
                let cuts = strokes(page, Layer::Cut);
                cuts.iter().map(|(_, points)| points.to_vec()).collect()
            };
            let theirs: Vec<_> = tiles.pages.iter().map(cuts).collect();
            assert_eq!(own.len(), theirs.len(), "{title}");
            assert!(
                own.iter()
                    .zip(theirs)
                    .all(|(own, theirs)| cuts(own) == theirs)
            );
            alone += tiles.pages.len();
        }
    }
    assert_eq!(packet.pages.len(), alone);
    assert!(!packet.notes.is_empty());
}

#[test]
fn landings_and_tables_come_along() {
    let parts = Parts {
        landings: true,
        tables: Some(16),
        ..NONE
    };
    let job = jobs::trolley();
    let packet = job.print(Paper::A4, &printer(), parts).unwrap();
    let count = |text: &str| {
        let has = |page: &&Drawing| words(page).contains(text);
        packet.pages.iter().filter(has).count()
    };
    assert!(count("template for the main") >= 1);
    let ends: usize = job.pieces.iter().map(|own| own.templates().len()).sum();
    assert_eq!(count("table of 16"), ends);
}

#[test]
fn a_corrected_printer_corrects_every_template() {
    let job = jobs::trolley();
    let corrected = printer()
        .measured(Ruler::Millimetres, mm(98.0), mm(101.0))
        .unwrap();
    let packet = job.print(Paper::A4, &corrected, TEMPLATES).unwrap();
    let mut printed = packet.clone();
    for page in &mut printed.pages {
        for item in &mut page.items {
            if let Item::Stroke { points, .. } = item {
                for point in points {
                    // What the printer makes of it.
                    *point = Point::new(point.x * 0.98, point.y * 1.01);
                }
            }
        }
    }
    assert_once_and_true(&job, &printed);
    for page in &packet.pages {
        assert_within(page, 10.0);
        assert_apart(page);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_job_is_laid_out_clear_and_true(
        seed in 0_u32..10_000,
        pieces in 1_u32..9,
        outside in 8.0..75.0_f64,
        paper in prop::sample::select(vec![Paper::A4, Paper::Letter, Paper::A3]),
        sideways in any::<bool>(),
    ) {
        let outside = (outside * 10.0).round() / 10.0;
        let wall = (outside * 0.06 * 10.0).round().max(5.0) / 10.0;
        let job = jobs::random(seed, pieces, (outside, wall));
        let way = if sideways { Orientation::Sideways } else { Orientation::Upright };
        let packet = job.print(paper, &printer().with_orientation(way), TEMPLATES).unwrap();
        let tiled = packet.pages.iter().any(|page| words(page).contains("Put it on"));
        if !tiled {
            assert_once_and_true(&job, &packet);
        }
        for page in &packet.pages {
            assert_within(page, 10.0);
            assert_apart(page);
            assert_strips_apart(page);
        }
    }
}
