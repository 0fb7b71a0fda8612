//! What the sheet draws: cuts, dimension lines, shape, views and dial, true to the piece.

use super::*;

/// What a drawn millimetre stands for.
fn scale(page: &Drawing) -> f64 {
    let all = texts(page);
    let text = all.iter().find(|text| text.starts_with("Scale ")).unwrap();
    let words: Vec<&str> = text.split([' ', ',', '.']).collect();
    words[3].parse::<f64>().unwrap() / words[1].parse::<f64>().unwrap()
}

/// The level zero line of the drawing: its height.
fn middle(page: &Drawing) -> f64 {
    let zero = strokes(page, Layer::Zero);
    let level = zero.iter().find(|(_, points)| points[0].y == points[1].y);
    level.unwrap().1[0].y
}

/// Joint centres from left to right: the upright strokes of their crosses.
fn centres(page: &Drawing) -> [f64; 2] {
    let axis = strokes(page, Layer::Axis);
    let upright = axis.iter().filter(|(_, points)| points[0].x == points[1].x);
    let xs: Vec<f64> = upright.map(|(_, points)| points[0].x).collect();
    xs.try_into().unwrap()
}

#[test]
fn the_drawn_cuts_are_those_of_the_joints() {
    // Closed form of the cut on a round main, from the meeting of the two cylinders: every corner
    // of the drawn outline is turned back to where it is on the tube.
    let mut looked = 0;
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let page = &packet.pages[0];
        let (of, y, centres) = (scale(page), middle(page), centres(page));
        let r = made.tube.0 / 2.0;
        for (layer, seen) in [(Layer::Tube, true), (Layer::Hidden, false)] {
            for (pen, points) in strokes(page, layer) {
                let on_tube = points.iter().all(|p| (p.y - y).abs() <= r / of + 1e-6);
                if pen == Pen::THIN || points.len() < 10 || !on_tube {
                    continue;
                }
                let side = usize::from(points[0].x > f64::midpoint(centres[0], centres[1]));
                let (main, angle, offset, heel) = made.ends[side].unwrap();
                let way = [1.0, -1.0][side];
                for point in points {
                    let sin = (point.y - y) * of / r;
                    if sin.abs() > 0.999 {
                        continue;
                    }
                    let turn = if seen {
                        sin.asin()
                    } else {
                        std::f64::consts::PI - sin.asin()
                    };
                    // From the heel, as the end itself counts.
                    let phi = way * (turn - heel.to_radians());
                    let (theta, across) = (angle.to_radians(), r * phi.sin() - offset);
                    let up = ((main / 2.0).powi(2) - across * across).sqrt();
                    if up.is_nan() {
                        // Here the tube passes beside its main and is trimmed.
                        continue;
                    }
                    let s = (r * phi.cos() * theta.cos() + up) / theta.sin();
                    let drawn = way * (point.x - centres[side]) * of;
                    assert!((s - drawn).abs() < 1e-6, "{label}: {s} is drawn at {drawn}");
                    looked += 1;
                }
            }
        }
    }
    assert!(looked > 500, "{looked}");
}

#[test]
fn dimension_lines_are_as_long_as_they_say() {
    let mut whole = 0;
    for (label, made) in made() {
        let piece = made.piece();
        for unit in UNITS {
            for paper in [Paper::A4, Paper::Letter] {
                let packet = sheet_of(&piece, label, unit, paper, &upright());
                whole += assert_dimensions(&piece, unit, &packet.pages[0]);
            }
        }
    }
    assert!(whole > 100, "{whole}");
}

pub fn upright() -> Printer {
    printer().with_orientation(Orientation::Upright)
}

/// Every dimension stands on a line of its length, or where the drawing is broken on a line; how
/// many were measured.
pub fn assert_dimensions(piece: &Piece, unit: Unit, page: &Drawing) -> usize {
    let mut measured = 0;
    let of = scale(page);
    let marks = piece.marks(tape_division(unit));
    let finished = &marks.finished;
    let coped = Side::BOTH.map(|side| piece.end(side).template().is_some());
    let grips = Side::BOTH.map(|side| piece.grip(side) > Length::ZERO);
    // What is said, how long it is, and whether it is drawn whole on any piece.
    let mut dimensions = vec![("overall", finished.length, false)];
    if grips != [false, false] {
        dimensions.push(("blank", marks.blank.length, false));
    }
    for at in [0, 1] {
        if coped[at] {
            dimensions.push((["mark A", "mark B"][at], finished.own[at], true));
            let far = ["mark A to far end", "mark B to far end"][at];
            dimensions.push((far, finished.far[at], false));
            if grips[at] {
                dimensions.push(("from the blank’s end", marks.blank.own[at], false));
            }
        }
        if grips[at] {
            dimensions.push(("cut off", marks.cut_off[at], false));
        }
    }
    if coped == [true, true] {
        let between = Reading {
            exact: finished.between.exact.abs(),
            on_tape: finished.between.on_tape.abs(),
        };
        let passed = finished.between.exact < Length::ZERO;
        let caption = if passed {
            "marks passed by"
        } else {
            "mark to mark"
        };
        dimensions.push((caption, between, false));
    }
    if coped != [false, false] {
        let centres = Reading::nearest(piece.lengths().centres, tape_division(unit));
        dimensions.push(("between joint centres", centres, false));
    }
    let broken = words(page).contains("long stretches broken");
    let lines: Vec<&[Point]> = strokes(page, Layer::Dimension)
        .into_iter()
        .map(|(_, points)| points)
        .filter(|points| points.len() == 2 && points[0].y == points[1].y)
        .collect();
    for (caption, reading, whole) in dimensions {
        let value = write_bare(reading.on_tape, unit);
        let long = format!("{caption} {value}");
        let stands_on = |at: &Point, middle: f64| {
            lines.iter().any(|line| {
                let ends = [line[0].x.min(line[1].x), line[0].x.max(line[1].x)];
                let true_length = (ends[1] - ends[0]) * of;
                let near = (0.5..2.6).contains(&(line[0].y - at.y));
                let beside = middle > ends[0] - 22.0 && middle < ends[1] + 22.0;
                let as_long = (true_length - reading.exact.mm()).abs() < 1e-6;
                near && beside && (as_long || broken && !whole)
            })
        };
        let found = page.items.iter().any(|item| match (item, text_box(item)) {
            (Item::Text { at, text, .. }, Some(area)) => {
                (*text == value || *text == long) && stands_on(at, f64::midpoint(area.0, area.2))
            }
            _ => false,
        });
        assert!(found, "{long} is on no line of its length");
        measured += usize::from(whole || !broken);
    }
    measured
}

#[test]
fn outsides_of_bends_are_drawn_at_their_turn() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let page = &packet.pages[0];
        let (y, r) = (middle(page), made.tube.0 / 2.0 / scale(page));
        for ((_, _, outside), _) in made.more {
            let (sin, cos) = outside.to_radians().sin_cos();
            let pattern = if cos > -1e-9 {
                Pattern::Solid
            } else {
                Pattern::Dashed
            };
            let found = strokes(page, Layer::Quarter).iter().any(|(pen, points)| {
                let level = points[0].y == points[1].y;
                level && pen.pattern == pattern && (points[0].y - (y + r * sin)).abs() < 1e-9
            });
            assert!(found, "{label}: outside at {outside}°");
        }
    }
}

#[test]
fn the_shape_is_true() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let shapes: Vec<Vec<Point>> = packet
            .pages
            .iter()
            .flat_map(|page| strokes(page, Layer::Tube))
            .filter(|(pen, _)| *pen == Pen::BOLD)
            .map(|(_, points)| points.to_vec())
            .collect();
        if !piece.is_bent() {
            assert!(shapes.is_empty());
            continue;
        }
        let span = |of: &dyn Fn(&Point) -> f64, points: &[Point]| {
            let all: Vec<f64> = points.iter().map(of).collect();
            all.iter().copied().fold(f64::MIN, f64::max)
                - all.iter().copied().fold(f64::MAX, f64::min)
        };
        if let [only] = shapes.as_slice() {
            let (a, b) = (only[0], only[only.len() - 1]);
            let path: f64 = only
                .windows(2)
                .map(|pair| (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y))
                .sum();
            let apart = (b.x - a.x).hypot(b.y - a.y) / path;
            let exact = piece.centres_apart() / piece.lengths().centres;
            // The arcs are drawn as chords.
            assert!((apart - exact).abs() < 2e-3, "{label}: {apart} for {exact}");
        } else {
            let [front, top, end] = shapes.as_slice() else {
                panic!("{label}: {} views", shapes.len());
            };
            // What two views share is as long in both, and A to B in space as the kernel has it.
            let x = |points: &[Point]| span(&|p| p.x, points);
            let y = |points: &[Point]| span(&|p| p.y, points);
            assert!((x(front) - x(top)).abs() < 1e-9);
            assert!((y(front) - x(end)).abs() < 1e-9);
            assert!((y(top) - y(end)).abs() < 1e-9);
            let last = |points: &[Point]| {
                let (a, b) = (points[0], points[points.len() - 1]);
                (b.x - a.x, b.y - a.y)
            };
            let ((along, across), (_, down)) = (last(front), last(top));
            let apart = along.hypot(across).hypot(down);
            // The first straight is seen whole from the front.
            let first = piece.straights(Between::Centres)[0].mm();
            let drawn = (front[1].x - front[0].x).abs();
            let exact = piece.centres_apart().mm() / first;
            assert!((apart / drawn - exact).abs() < 1e-6, "{label}");
        }
    }
}

#[test]
fn views_show_the_kernels_frame_the_right_way_round() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let line = piece.line();
        let Some(first) = line.natural_zero() else {
            continue;
        };
        let [x, y, z] = line.frame_at(line.developed()).origin;
        // Along the tube to the right; then the outside of the first bend down, or the zero line
        // towards the viewer, down, and up.
        let (sin, cos) = first.rad().sin_cos();
        let flat = [(z, x * cos + y * sin)];
        let three = [(z, y), (z, x), (y, -x)];
        let shapes: Vec<Vec<Point>> = packet
            .pages
            .iter()
            .flat_map(|page| strokes(page, Layer::Tube))
            .filter(|(pen, _)| *pen == Pen::BOLD)
            .map(|(_, points)| points.to_vec())
            .collect();
        let expected: &[(f64, f64)] = if shapes.len() == 1 { &flat } else { &three };
        // The first straight lies along the tube in the first view.
        let scale = (shapes[0][1].x - shapes[0][0].x) / piece.straights(Between::Centres)[0].mm();
        for (points, (right, down)) in shapes.iter().zip(expected) {
            let (a, b) = (points[0], points[points.len() - 1]);
            let off = (b.x - a.x - right * scale).hypot(b.y - a.y - down * scale);
            assert!(off < 1e-6, "{label}: off by {off}");
        }
    }
}

#[test]
fn the_dial_counts_clockwise_from_the_zero_line_on_top() {
    for (label, made) in made() {
        let piece = made.piece();
        let packet = sheet_of(&piece, label, Unit::Millimetre, Paper::A4, &printer());
        let page = &packet.pages[0];
        let heels = Side::BOTH.into_iter().filter_map(|side| piece.heel(side));
        let turns: Vec<Angle> = heels
            .chain(piece.line().bends().map(TubeBend::outside))
            .collect();
        if turns.is_empty() {
            continue;
        }
        // The upright zero line runs from the middle of the dial to its rim.
        let zero = strokes(page, Layer::Zero);
        let upright = zero.iter().find(|(_, points)| points[0].x == points[1].x);
        let [middle, rim] = upright.unwrap().1 else {
            panic!("{label}: no zero line on the dial");
        };
        let radius = middle.y - rim.y;
        assert!(radius > 5.0);
        for turn in turns {
            // Right-handed about the line of sight: to the right of the top.
            let (sin, cos) = turn.rad().sin_cos();
            let ticked = strokes(page, Layer::Mark).iter().any(|(_, points)| {
                let (dx, dy) = (points[1].x - middle.x, points[1].y - middle.y);
                let far = dx.hypot(dy);
                far < radius + 3.0 && (dx * sin - dy * cos) / far > 0.999
            });
            assert!(ticked, "{label}: nothing at {}", write_angle(turn));
        }
    }
}

#[test]
fn an_end_that_is_left_as_it_is_says_so() {
    let tube = RoundTube::new(mm(33.7), mm(2.6)).unwrap();
    let ends = [End::AsItIs, End::Square];
    let line = CentreLine::straight(mm(800.0));
    let piece = Piece::new(tube, ends, line, Between::Centres, [mm(0.0); 2]).unwrap();
    let packet = lay_out_piece(&PieceOrder {
        piece: &piece,
        label: "",
        count: 1,
        density: None,
        unit: Unit::Millimetre,
        division: mm(0.0),
        clamps: Clamps::default(),
        link: "",
        date: "",
        paper: Paper::Letter,
        printer: &printer(),
    });
    let [page] = packet.pages.as_slice() else {
        panic!("{} pages", packet.pages.len());
    };
    assert_within(page, 5.0);
    assert_apart(page);
    let all = words(page);
    assert!(all.contains("end A stays as it is"), "{all}");
    assert!(
        !all.contains("kg") && !all.contains("Open it again"),
        "{all}"
    );
}
