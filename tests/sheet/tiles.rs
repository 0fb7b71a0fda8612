//! Tiles: laid cross on cross they are the template again, on as few sheets as can be.

use crate::common::*;

/// Centres of the registration crosses on a page.
fn crosses(page: &Drawing) -> Vec<Point> {
    strokes(page, Layer::Check)
        .iter()
        .filter(|(pen, p)| *pen == Pen::THIN && p.len() == 2 && (p[0].y - p[1].y).abs() < 1e-9)
        .map(|(_, p)| Point::new((p[0].x + p[1].x) / 2.0, p[0].y))
        .collect()
}

/// Lays tiles cross on cross and checks the whole cut line; `beside` says whether the next tile
/// lies to the right, else below.
fn assert_joins(template: &Template, pages: &[Drawing], beside: bool) {
    let along = |p: &Point| if beside { p.x } else { p.y };
    let edge = |crosses: &[Point], last: bool| -> Vec<Point> {
        let extreme = crosses.iter().map(along).fold(
            if last { f64::MIN } else { f64::MAX },
            if last { f64::max } else { f64::min },
        );
        let mut found: Vec<Point> = crosses
            .iter()
            .copied()
            .filter(|p| (along(p) - extreme).abs() < 1e-6)
            .collect();
        found.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        found
    };
    // Shift of every page into the frame of the first.
    let mut shift = Point::new(0.0, 0.0);
    let mut shifts = vec![shift];
    for pair in pages.windows(2) {
        let here = edge(&crosses(&pair[0]), true);
        let there = edge(&crosses(&pair[1]), false);
        assert!(here.len() >= 2, "two crosses at every join");
        assert_eq!(here.len(), there.len());
        let step = Point::new(here[0].x - there[0].x, here[0].y - there[0].y);
        for (a, b) in here.iter().zip(&there) {
            assert!((a.x - b.x - step.x).abs() < 1e-9 && (a.y - b.y - step.y).abs() < 1e-9);
        }
        shift = Point::new(shift.x + step.x, shift.y + step.y);
        shifts.push(shift);
    }
    let moved = |wanted: Layer| -> Vec<Vec<Point>> {
        pages
            .iter()
            .zip(&shifts)
            .flat_map(|(page, shift)| {
                strokes(page, wanted)
                    .into_iter()
                    .map(|(_, points)| {
                        points
                            .iter()
                            .map(|p| Point::new(p.x + shift.x, p.y + shift.y))
                            .collect()
                    })
                    .collect::<Vec<_>>()
            })
            .collect()
    };
    let zero_x = moved(Layer::Zero)
        .iter()
        .map(|p| p[0].x)
        .fold(f64::MIN, f64::max);
    let mark_y = moved(Layer::Mark)[0][0].y;
    let mut pieces = moved(Layer::Cut);
    pieces.extend(moved(Layer::Trim));
    let whole: Vec<Vec<Point>> = template
        .line()
        .iter()
        .map(|run| {
            run.points
                .iter()
                .map(|p| Point::new(zero_x - p.around.mm(), mark_y - p.above_mark.mm()))
                .collect()
        })
        .collect();
    let near = |p: &Point, lines: &[Vec<Point>]| {
        lines
            .iter()
            .flat_map(|line| line.windows(2))
            .map(|pair| distance(p, &pair[0], &pair[1]))
            .fold(f64::MAX, f64::min)
    };
    for piece in &pieces {
        for point in piece {
            assert!(near(point, &whole) < 1e-9, "{point:?} is not on the line");
        }
    }
    for line in &whole {
        for pair in line.windows(2) {
            for part in [0.0, 0.37, 1.0] {
                let p = Point::new(
                    pair[0].x + (pair[1].x - pair[0].x) * part,
                    pair[0].y + (pair[1].y - pair[0].y) * part,
                );
                assert!(near(&p, &pieces) < 1e-9, "{p:?} is on no tile");
            }
        }
    }
}

/// Distance of a point from a segment.
fn distance(p: &Point, a: &Point, b: &Point) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 {
        limited(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0)
    } else {
        0.0
    };
    (p.x - a.x - dx * t).hypot(p.y - a.y - dy * t)
}

#[test]
fn tiles_laid_cross_on_cross_give_the_whole_cut_line() {
    let upright = printer().with_orientation(Orientation::Upright);
    for (case, paper, columns, rows) in [
        (cases()[13], Paper::A4, 5, 1),
        (cases()[13], Paper::Letter, 5, 1),
        (cases()[12], Paper::Letter, 2, 1),
        (
            Case {
                angle: 5.0,
                ..USUAL
            },
            Paper::A4,
            1,
            3,
        ),
    ] {
        let packet = packet_on(case, paper, &upright, "Axle", Unit::Millimetre);
        assert_eq!((packet.columns, packet.rows), (columns, rows));
        let tiles = (columns * rows) as usize;
        let first = packet.pages.len() - tiles;
        assert_joins(&case.template(), &packet.pages[first..], columns > 1);
    }
}

#[test]
fn the_note_counts_the_sheets_that_are_printed() {
    let upright = printer().with_orientation(Orientation::Upright);
    let shallow = Case {
        branch: 168.3,
        wall: 7.1,
        main: 168.3,
        angle: 25.0,
        ..USUAL
    };
    let packet = packet_on(shallow, Paper::A4, &upright, "", Unit::Millimetre);
    let tiles = packet
        .pages
        .iter()
        .filter(|page| words(page).contains("column "))
        .count();
    let all = (packet.columns * packet.rows) as usize;
    assert!(tiles < all, "some tiles show nothing");
    let note = packet.notes.join(" ");
    assert!(note.contains(&format!("{tiles} sheets to tape")), "{note}");
    assert!(note.contains("left out"), "{note}");
}

#[test]
fn tiles_overlap_by_a_centimetre_and_say_where_they_lie() {
    let packet = packet(cases()[13]);
    for (i, page) in packet.pages.iter().enumerate() {
        let text = words(page);
        assert!(
            text.contains(&format!("column {} of 5, row 1 of 1", i + 1)),
            "{text}"
        );
        assert!(text.contains(&format!("sheet {} of 5", i + 1)));
        let names: Vec<&str> = texts(page);
        for neighbour in 1..=5 {
            let named = names.contains(&format!("column {neighbour}").as_str());
            assert_eq!(named, neighbour == i || neighbour == i + 2, "{names:?}");
        }
    }
    // Two tiles show the same crosses, and the cut line for at least 5 mm past them.
    let reach = |page: &Drawing| {
        let xs = strokes(page, Layer::Cut);
        let xs = xs.iter().flat_map(|(_, points)| points.iter().map(|p| p.x));
        xs.fold(f64::MIN, f64::max)
    };
    let join = crosses(&packet.pages[0])
        .iter()
        .map(|p| p.x)
        .fold(f64::MIN, f64::max);
    assert!(reach(&packet.pages[0]) - join >= 5.0);
}

#[test]
fn sheets_are_saved() {
    let count = |case: Case, paper, way| {
        let printer = printer().with_orientation(way);
        packet_on(case, paper, &printer, "Axle", Unit::Millimetre)
            .pages
            .len()
    };
    assert_eq!(count(USUAL, Paper::A4, Orientation::Auto), 1);
    for case in cases() {
        for paper in Paper::ALL {
            let both = count(case, paper, Orientation::Upright).min(count(
                case,
                paper,
                Orientation::Sideways,
            ));
            assert_eq!(count(case, paper, Orientation::Auto), both);
        }
    }
    let wide = packet(cases()[8]);
    assert!(
        wide.turned && wide.notes[0].contains("instead of"),
        "{:?}",
        wide.notes
    );
    assert!(!packet(USUAL).turned, "upright when both take as many");
    let larger = packet_on(cases()[13], Paper::A3, &printer(), "", Unit::Millimetre);
    assert!(larger.pages.len() < packet(cases()[13]).pages.len());
}

#[test]
fn the_largest_tube_is_laid_out_or_refused_in_words() {
    let huge = Case {
        branch: 2000.0,
        wall: 10.0,
        main: 2000.0,
        angle: 90.0,
        ..USUAL
    };
    let packet = packet_on(huge, Paper::A3, &printer(), "Tank", Unit::Millimetre);
    assert!(packet.pages.len() > 20);
    let template = Case { angle: 5.0, ..huge }.template();
    let printer = printer();
    let order = Order {
        template: &template,
        unit: Unit::Millimetre,
        label: "",
        link: "",
        date: "",
        paper: Paper::A4,
        printer: &printer,
        saw: &[],
    };
    let error = lay_out(&order).unwrap_err();
    assert!(matches!(
        error,
        SheetError::TooManySheets {
            paper: Paper::A4,
            ..
        }
    ));
    assert!(error.sentence().contains("larger paper"));
}
