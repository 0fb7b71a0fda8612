//! The tables as suggestions while typing: a text to type, and what it stands for.

use super::{
    GAUGES, INCH_TUBES, INCH_WALLS, METRIC_TUBES, METRIC_WALLS, PIPE_SERIES, PIPE_SERIES_WALLS,
    PIPES, Series, hole_saws, pipe_at,
};
use crate::units::{
    Denominator, Length, Unit, nearest_fraction, sort_by_number, write_decimal, write_length,
};

/// What a suggestion is wanted for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Outside diameter of the tube whose end is cut.
    BranchDiameter,
    /// Outside diameter of the tube it sits on.
    MainDiameter,
    /// Wall thickness, of any tube; [`wall_suggestions`] knows the tube.
    Wall,
    /// Diameter of a hole saw.
    HoleSaw,
}

/// One suggestion.
#[derive(Debug, Clone, PartialEq)]
pub struct Suggestion {
    /// What to put in the field, with its unit: `1 1/2"`, `48.3 mm`.
    pub text: String,
    /// What it stands for: `1-1/2 pipe, ASME B36.10M`.
    pub note: String,
    /// The length in the table, which the text reads back to.
    pub length: Length,
}

/// How close to a mark of the tape a length in inches is written as a fraction.
const ON_THE_MARK: Length = Length::from_mm(1e-6);

/// A row of a table, in the unit it is published in.
struct Row {
    length: Length,
    inch: bool,
    note: String,
}

/// What the tables hold for a field: sizes of the job's own unit first, then the others, each
/// ascending. A size that stands in several tables appears once with every note.
#[must_use]
pub fn suggestions(kind: Kind, unit: Unit) -> Vec<Suggestion> {
    let rows = match kind {
        Kind::BranchDiameter | Kind::MainDiameter => diameters(),
        Kind::Wall => walls(),
        Kind::HoleSaw => saws(),
    };
    listed(rows, unit)
}

/// Walls for a tube of this outside diameter: the schedules of the pipe that has it, if one does,
/// then every other wall that leaves a bore.
#[must_use]
pub fn wall_suggestions(outside: Length, unit: Unit) -> Vec<Suggestion> {
    let mut found = listed(schedules(outside), unit);
    let mut rest = walls();
    rest.retain(|row| row.length < outside / 2.0);
    for suggestion in listed(rest, unit) {
        match found.iter_mut().find(|have| have.text == suggestion.text) {
            Some(have) => add_note(&mut have.note, &suggestion.note),
            None => found.push(suggestion),
        }
    }
    found
}

fn diameters() -> Vec<Row> {
    let mut rows = series(&INCH_TUBES, true);
    rows.extend(series(&METRIC_TUBES, false));
    for pipe in &PIPES {
        let note = format!("{} pipe, ASME B36.10M", pipe.nps);
        rows.push(row(pipe.outside.inch, true, &note));
        rows.push(row(pipe.outside.metric, false, &note));
    }
    rows.extend(series(&PIPE_SERIES, false));
    rows
}

fn walls() -> Vec<Row> {
    let gauges = GAUGES
        .iter()
        .map(|gauge| row(gauge.wall.inch, true, &format!("{} BWG", gauge.number)));
    let mut rows: Vec<Row> = gauges.collect();
    rows.extend(series(&INCH_WALLS, true));
    rows.extend(series(&METRIC_WALLS, false));
    rows.extend(series(&PIPE_SERIES_WALLS, false));
    rows
}

fn schedules(outside: Length) -> Vec<Row> {
    let mut rows = Vec::new();
    if let Some(pipe) = pipe_at(outside) {
        for wall in pipe.walls {
            let note = format!("{} pipe, schedule {}", pipe.nps, wall.schedule);
            rows.push(row(wall.wall.inch, true, &note));
            rows.push(row(wall.wall.metric, false, &note));
        }
    }
    rows
}

fn saws() -> Vec<Row> {
    // Sold by the inch; the millimetres on metric lists are rounded and not what the saw cuts.
    let note = |mm| format!("hole saw, listed as {mm} mm");
    hole_saws()
        .iter()
        .map(|saw| row(saw.diameter, true, &note(saw.listed_mm)))
        .collect()
}

fn series(series: &Series, inch: bool) -> Vec<Row> {
    let sizes = series.sizes.iter();
    sizes
        .map(|&length| row(length, inch, series.name))
        .collect()
}

fn row(length: Length, inch: bool, note: &str) -> Row {
    Row {
        length,
        inch,
        note: note.to_owned(),
    }
}

/// Rows in order and as text, equal texts made one.
fn listed(mut rows: Vec<Row>, unit: Unit) -> Vec<Suggestion> {
    // Among equal sizes the order of the tables stays, and so the order of the notes.
    sort_by_number(&mut rows, |row| row.length.mm());
    let (ours, foreign): (Vec<Row>, Vec<Row>) =
        rows.into_iter().partition(|row| row.inch == unit.is_inch());
    let mut found: Vec<Suggestion> = Vec::new();
    for row in ours.into_iter().chain(foreign) {
        let text = text(&row, unit);
        match found.last_mut() {
            Some(last) if last.text == text => add_note(&mut last.note, &row.note),
            _ => found.push(Suggestion {
                text,
                note: row.note,
                length: row.length,
            }),
        }
    }
    found
}

/// A size as one would type it: a tape fraction only where it is one exactly.
fn text(row: &Row, unit: Unit) -> String {
    if !row.inch {
        return write_length(row.length, Unit::Millimetre);
    }
    let on_the_mark = nearest_fraction(row.length, Denominator::SixtyFourth)
        .is_some_and(|mark| mark.remainder.abs() < ON_THE_MARK);
    if on_the_mark && unit != Unit::Inch {
        write_length(row.length, Unit::Fraction(Denominator::SixtyFourth))
    } else {
        // Four decimals, since a sixteenth of an inch needs them: 0.5625.
        write_decimal(row.length.inches(), 4) + " in"
    }
}

fn add_note(notes: &mut String, note: &str) {
    notes.push_str("; ");
    notes.push_str(note);
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::units::read_length;

    const SIXTEENTHS: Unit = Unit::Fraction(Denominator::Sixteenth);

    fn everything(unit: Unit) -> Vec<Vec<Suggestion>> {
        let kinds = [
            Kind::BranchDiameter,
            Kind::MainDiameter,
            Kind::Wall,
            Kind::HoleSaw,
        ];
        let mut all: Vec<_> = kinds.map(|kind| suggestions(kind, unit)).to_vec();
        all.extend(PIPES.map(|pipe| wall_suggestions(pipe.outside.metric, unit)));
        all
    }

    fn find<'a>(list: &'a [Suggestion], text: &str) -> &'a Suggestion {
        list.iter().find(|one| one.text == text).unwrap()
    }

    #[test]
    fn every_text_reads_back_to_the_size_in_the_table() {
        for unit in Unit::ALL {
            for suggestion in everything(unit).concat() {
                for job in Unit::ALL {
                    let read = read_length(&suggestion.text, job).unwrap();
                    let apart = (read - suggestion.length).abs().mm();
                    assert!(apart < 1e-9, "{}: {apart} mm", suggestion.text);
                }
            }
        }
    }

    #[test]
    fn no_text_appears_twice_and_each_has_a_note() {
        for unit in Unit::ALL {
            for list in everything(unit) {
                assert!(!list.is_empty());
                for (i, one) in list.iter().enumerate() {
                    assert!(!one.note.is_empty(), "{}", one.text);
                    assert!(
                        list[..i].iter().all(|other| other.text != one.text),
                        "{}",
                        one.text
                    );
                }
            }
        }
    }

    #[test]
    fn sizes_of_the_jobs_own_unit_come_first() {
        for unit in Unit::ALL {
            for kind in [Kind::BranchDiameter, Kind::Wall] {
                let list = suggestions(kind, unit);
                let own = |one: &Suggestion| one.text.ends_with("mm") != unit.is_inch();
                let first_foreign = list.iter().position(|one| !own(one)).unwrap();
                assert!(first_foreign > 0);
                assert!(list[first_foreign..].iter().all(|one| !own(one)));
                for half in [&list[..first_foreign], &list[first_foreign..]] {
                    assert!(half.windows(2).all(|pair| pair[0].length < pair[1].length));
                }
            }
        }
    }

    #[test]
    fn a_size_is_written_as_one_would_type_it() {
        let list = suggestions(Kind::MainDiameter, SIXTEENTHS);
        assert_eq!(find(&list, "1 1/2\"").note, "inch tube");
        assert_eq!(find(&list, "1.9 in").note, "1-1/2 pipe, ASME B36.10M");
        assert_eq!(
            find(&list, "3 1/2\"").note,
            "inch tube; 3 pipe, ASME B36.10M"
        );
        assert_eq!(
            find(&list, "48.3 mm").note,
            "1-1/2 pipe, ASME B36.10M; tube, ISO 4200 series 1"
        );
        let list = suggestions(Kind::MainDiameter, Unit::Inch);
        assert_eq!(find(&list, "1.5 in").note, "inch tube");
        let list = suggestions(Kind::Wall, Unit::Inch);
        assert_eq!(find(&list, "0.095 in").note, "13 BWG; inch tube wall");
        let list = suggestions(Kind::HoleSaw, SIXTEENTHS);
        assert_eq!(find(&list, "1 7/8\"").note, "hole saw, listed as 48 mm");
    }

    #[test]
    fn the_walls_of_a_pipe_lead_the_list_for_its_diameter() {
        let list = wall_suggestions(Length::from_mm(48.3), Unit::Millimetre);
        let first: Vec<&str> = list[..4].iter().map(|one| one.text.as_str()).collect();
        assert_eq!(first, ["2.77 mm", "3.68 mm", "5.08 mm", "7.14 mm"]);
        assert_eq!(list[1].note, "1-1/2 pipe, schedule 40");
        let list = wall_suggestions(Length::from_inches(1.9), Unit::Inch);
        assert_eq!(list[0].text, "0.109 in");
        assert_eq!(list[0].note, "1-1/2 pipe, schedule 10; 12 BWG");
    }

    #[test]
    fn a_wall_offered_leaves_a_bore() {
        for mm in [3.0, 6.0, 10.3, 38.1] {
            let outside = Length::from_mm(mm);
            for one in wall_suggestions(outside, Unit::Millimetre) {
                assert!(one.length < outside / 2.0, "{} in {mm} mm", one.text);
            }
        }
    }
}
