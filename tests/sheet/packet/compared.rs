//! The comparison of a left and right pair: its lines coincide, and tell when they do not.

use copewright::piece::Piece;
use copewright::sheet::Pattern;
use copewright::sheet::packet::{PairOrder, Parts, lay_out_pair};

use super::jobs::{self, NONE, OwnPiece};
use crate::common::*;
use crate::pages::{assert_apart, assert_within};

fn piece(tube: (f64, f64), ends: [jobs::Coped; 2]) -> Piece {
    let own = OwnPiece::new("", &jobs::fragment("mm", tube, ends, 1200.0, 1));
    own.draft.unwrap().piece
}

fn compared(left: &Piece, right: &Piece, paper: Paper) -> Packet {
    lay_out_pair(&PairOrder {
        pieces: [left, right],
        labels: ["Left brace", "Right brace"],
        unit: Unit::Millimetre,
        date: "14 May 2026",
        paper,
        printer: &printer(),
    })
}

/// The lines of both pieces: the thin one and the dots.
fn lines(packet: &Packet) -> Vec<(Vec<Point>, Vec<Point>)> {
    let of = |layer, pattern| -> Vec<Vec<Point>> {
        let pages = packet.pages.iter().flat_map(|page| strokes(page, layer));
        let own = pages.filter(|(pen, _)| pen.pattern == pattern);
        own.map(|(_, points)| points.to_vec()).collect()
    };
    let thin = of(Layer::Tube, Pattern::Solid);
    let dots = of(Layer::Hidden, Pattern::Dotted);
    assert_eq!(thin.len(), dots.len());
    thin.into_iter().zip(dots).collect()
}

/// Height of a line at a place, from right to left.
fn height(line: &[Point], x: f64) -> f64 {
    let to = line.partition_point(|p| p.x > x).clamp(1, line.len() - 1);
    let (a, b) = (line[to - 1], line[to]);
    a.y + (b.y - a.y) * (a.x - x) / (a.x - b.x)
}

fn most_apart(thin: &[Point], dots: &[Point]) -> f64 {
    let (right, left) = (thin[0].x, thin[thin.len() - 1].x);
    (1..400)
        .map(|step| right + (left - right) * f64::from(step) / 400.0)
        .map(|x| (height(thin, x) - height(dots, x)).abs())
        .fold(0.0, f64::max)
}

#[test]
fn the_lines_of_a_pair_coincide() {
    for (tube, paper) in [
        ((42.4, 2.6), Paper::A4),
        ((60.3, 3.0), Paper::Letter),
        ((219.1, 6.3), Paper::A4),
    ] {
        let main = tube.0 * 1.5;
        let left = piece(tube, [(main, 60.0, 5.0, 0.0), (main, 45.0, 0.0, 30.0)]);
        let right = piece(tube, [(main, 60.0, -5.0, 0.0), (main, 45.0, 0.0, -30.0)]);
        let packet = compared(&left, &right, paper);
        assert_eq!(packet.pages.len(), 1);
        let lines = lines(&packet);
        assert_eq!(lines.len(), 2);
        for (thin, dots) in lines {
            let apart = most_apart(&thin, &dots);
            assert!(apart < 0.03, "{apart}");
        }
        let all = words(&packet.pages[0]);
        assert_eq!(all.matches("The lines coincide.").count(), 2, "{all}");
        let letters = left.check_sum();
        assert!(
            all.contains(&format!("{letters} and {letters}, the same")),
            "{all}"
        );
        assert_within(&packet.pages[0], 10.0);
        assert_apart(&packet.pages[0]);
    }
}

#[test]
fn two_that_are_no_pair_are_told_apart() {
    let tube = (42.4, 2.6);
    let left = piece(tube, [(60.3, 60.0, 5.0, 0.0), (60.3, 45.0, 0.0, 0.0)]);
    // The other hand was forgotten at end A.
    let right = piece(tube, [(60.3, 60.0, 5.0, 0.0), (60.3, 45.0, 0.0, 0.0)]);
    let packet = compared(&left, &right, Paper::A4);
    let all = words(&packet.pages[0]);
    assert!(all.contains("The lines do not coincide"), "{all}");
    assert!(
        all.contains("The lines coincide."),
        "end B is its own mirror image"
    );
    let lines = lines(&packet);
    assert!(most_apart(&lines[0].0, &lines[0].1) > 1.0);
    assert!(most_apart(&lines[1].0, &lines[1].1) < 0.03);
    // A longer one has other letters and says by how much.
    let longer = OwnPiece::new(
        "",
        &jobs::fragment(
            "mm",
            tube,
            [(60.3, 60.0, -5.0, 0.0), (60.3, 45.0, 0.0, 0.0)],
            1203.0,
            1,
        ),
    );
    let packet = compared(&left, &longer.draft.unwrap().piece, Paper::A4);
    let all = words(&packet.pages[0]);
    assert!(all.contains("3 mm apart"), "{all}");
    assert!(all.contains("not the same"), "{all}");
}

#[test]
fn pairs_come_with_the_packet() {
    let parts = Parts {
        comparison: true,
        ..NONE
    };
    let packet = jobs::trolley().print(Paper::A4, &printer(), parts).unwrap();
    assert_eq!(packet.pages.len(), 1);
    let all = words(&packet.pages[0]);
    assert!(all.contains("Left brace and Right brace"), "{all}");
    assert!(all.contains("packet 1 of 1"), "{all}");
}

/// Without offset and turn an end is its own mirror image, and the sheet says so; with an offset
/// it is not.
#[test]
fn it_is_said_where_one_template_serves_both() {
    let serves = |offset: f64| {
        let tube = (42.4, 2.6);
        let left = piece(tube, [(60.3, 60.0, offset, 0.0), (60.3, 45.0, 5.0, 30.0)]);
        let right = piece(
            tube,
            [(60.3, 60.0, -offset, 0.0), (60.3, 45.0, -5.0, -30.0)],
        );
        let packet = compared(&left, &right, Paper::A4);
        let all: String = packet.pages.iter().map(words).collect();
        all.matches("One template of this end serves both").count()
    };
    assert_eq!(serves(0.0), 1);
    assert_eq!(serves(6.0), 0);
}
