//! Found wrong after the cut: what explains the gaps seen, and what to grind where, in words.

use crate::cope::CutMethod;
use crate::cope::fit::{
    Cause, Diagnosis, Fit, READABLE, ROUNDING, Seen, Slip, SlipKind, StandOff, Verdict, diagnose,
    lands,
};
use crate::job::Draft;
use crate::job::fit::grinding::{by_eye, grind_rows};
use crate::job::fit::touching::listed;
use crate::job::fit::{FitAsked, FitFact, slip_in_words, small, whole_degrees};
use crate::joint::Main;
use crate::units::{Angle, Length};

/// The answer to gaps seen.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundWrong {
    /// What explains them, or that nothing does.
    pub sentence: String,
    /// What to look at before the next cut; empty for a clean one.
    pub advice: String,
    /// Gaps the explanation makes beside those seen.
    pub compared: Vec<FitFact>,
    /// What to take off where.
    pub grind: Vec<FitFact>,
}

pub(super) const NAMES: [&str; 4] = ["heel", "side", "toe", "side"];

/// What the gaps seen say about a draft, or which are still to be measured; `None` where none was
/// typed, or where the diameter of saw or template makes no cut.
#[must_use]
pub fn found_wrong(draft: &Draft, asked: &FitAsked) -> Option<FoundWrong> {
    let Some(seen) = asked.seen else {
        return to_measure(draft, asked);
    };
    let cope = draft.template.cope();
    let zero = (-draft.template.heel_turn()).within_turn();
    let number = asked.slip.main;
    let known = asked.size.map(|_| asked.slip.size);
    let telling = Telling {
        draft,
        asked,
        seen,
        main: cope.mains().get(number)?,
        zero,
        found: diagnose(cope, &seen, number, known, zero).ok()?,
    };
    let explained = telling.found.explanations();
    match (&telling.found.held, explained) {
        _ if telling.found.verdict == Verdict::Clean => telling.clean(),
        (Some(held), explained) if telling.found.nowhere || explained.is_empty() => {
            Some(telling.held(held, explained))
        }
        (_, [best, others @ ..]) => telling.explained(best, others),
        (_, []) => match &telling.found.other_size {
            Some(size) => telling.other_size(size),
            None => Some(telling.unexplained()),
        },
    }
}

/// Which gaps are still to be measured: fewer do not tell one slip from another.
fn to_measure(draft: &Draft, asked: &FitAsked) -> Option<FoundWrong> {
    let turns = [0.0, 1.0, 2.0, 3.0].map(|quarter| Angle::QUARTER * quarter);
    let all = turns
        .iter()
        .filter(|turn| lands(draft.template.cope(), **turn));
    let places: Vec<String> = NAMES
        .into_iter()
        .zip(turns)
        .zip(asked.missing)
        .filter(|(_, missing)| *missing)
        .map(|((name, turn), _)| {
            let turn = whole_degrees(turn + draft.template.heel_turn());
            format!("at the {name} (turn {turn})")
        })
        .collect();
    if places.is_empty() {
        return None;
    }
    Some(FoundWrong {
        sentence: format!(
            "Type the gap {} too, 0 where it touches: one slip is told from another only by \
             all {} places.",
            listed(&places),
            all.count()
        ),
        advice: String::new(),
        compared: Vec::new(),
        grind: Vec::new(),
    })
}

/// What was seen, and all that is known of it.
struct Telling<'a> {
    draft: &'a Draft,
    asked: &'a FitAsked,
    seen: Seen,
    main: &'a Main,
    zero: Angle,
    found: Diagnosis,
}

impl Telling<'_> {
    fn small(&self, length: Length) -> String {
        small(length, self.draft.unit)
    }

    fn told(&self, cause: &Cause) -> String {
        slip_in_words(cause.kind, cause.amount, self.main, self.draft)
    }

    /// What is known is off whatever else is.
    fn known(&self) -> Slip {
        Slip {
            main: self.asked.slip.main,
            size: self.asked.slip.size,
            ..Slip::NONE
        }
    }

    /// What to take off, of an end that is home: one that touches nowhere is pushed home first.
    fn grind(&self, slip: &Slip) -> Option<Vec<FitFact>> {
        if self.found.nowhere {
            return Some(Vec::new());
        }
        let fit = Fit::new(self.draft.template.cope(), slip, self.zero).ok()?;
        let grind = fit.grind(self.asked.limits.tight);
        let off = [0.0, 1.0, 2.0, 3.0].map(|quarter| grind.near(Angle::QUARTER * quarter));
        let most = Some((grind.most.turn, grind.most.gap));
        Some(grind_rows(self.draft, off, most, grind.shorter))
    }

    /// Nothing is off but what is known.
    fn clean(&self) -> Option<FoundWrong> {
        let found = &self.found;
        let notes = self.notes();
        let expected = found.expected.iter().zip(&found.plain);
        let off = |(made, plain): (&Option<Length>, &Option<Length>)| {
            made.unwrap_or_default() - plain.unwrap_or_default()
        };
        if let Some(size) = self.asked.size
            && expected.map(off).any(|off| off.abs() > READABLE)
        {
            let wanted = self.small(size - self.asked.slip.size);
            let tool = tool(self.draft, size);
            return Some(FoundWrong {
                sentence: format!(
                    "What you see is what {tool} in place of {wanted} leaves; nothing else is off.{notes}"
                ),
                advice: format!(
                    "Cut the next one with one {} {wanted}.",
                    of_or_for(self.draft)
                ),
                compared: self.compared("this size", &found.expected),
                grind: self.grind(&self.known())?,
            });
        }
        let readable = self.small(READABLE);
        Some(FoundWrong {
            sentence: format!(
                "The cut is clean: these are the gaps of a true cut, as far as they can be read ({readable}).{notes}"
            ),
            advice: String::new(),
            compared: self.compared("a true cut", &found.expected),
            grind: Vec::new(),
        })
    }

    /// It is not home, or is held off.
    fn held(&self, held: &StandOff, explained: &[Cause]) -> FoundWrong {
        let by = self.small(held.by);
        let others = explained.iter().chain(&self.found.other_size);
        let others: Vec<String> = others.map(|cause| self.told(cause)).collect();
        let others = if others.is_empty() {
            String::new()
        } else {
            format!(" Else it may be {}.", others.join("; or "))
        };
        let (nowhere, notes) = (self.nowhere(), self.notes());
        FoundWrong {
            sentence: format!(
                "{nowhere}An end that stands {by} off along the tube gaps so: push it home and measure \
                 again. If it is home, something holds it off, or the piece is {by} too short.{others}{notes}"
            ),
            advice: String::new(),
            compared: self.compared("standing off", &held.makes),
            grind: Vec::new(),
        }
    }

    /// One slip explains it, or each of several does.
    fn explained(&self, best: &Cause, others: &[Cause]) -> Option<FoundWrong> {
        let mut sentence = format!(
            "{}One slip explains what you see: {}. It leaves {} on average of what was read.",
            self.push_home(),
            self.told(best),
            self.small(best.off)
        );
        let mut others: Vec<String> = others.iter().map(|cause| self.told(cause)).collect();
        if let Some(held) = &self.found.held {
            let by = self.small(held.by);
            others.push(format!("an end that stands {by} off, not pushed home"));
        }
        if !others.is_empty() {
            sentence.push_str(&format!(
                " As well explained by {}: check both before you change anything.",
                others.join("; or by ")
            ));
        }
        Some(FoundWrong {
            sentence: sentence + &self.notes(),
            advice: self.advice(best),
            compared: self.compared("this slip", &best.makes),
            grind: self.grind(&best.kind.beside(self.known(), best.amount))?,
        })
    }

    /// Another diameter explains it than the one named, and nothing else does.
    fn other_size(&self, cause: &Cause) -> Option<FoundWrong> {
        let named = self.asked.size?;
        let wanted = named - self.asked.slip.size;
        let cuts = tool(self.draft, wanted + Length::from_mm(cause.amount));
        let named = tool(self.draft, named);
        Some(FoundWrong {
            sentence: format!(
                "{}No single slip explains these gaps beside what is named, but another diameter does: they \
                 are what {cuts} leaves, to {} on average.{} Named was {named}.",
                self.push_home(),
                self.small(cause.off),
                self.spaced()
            ),
            advice: self.advice(cause),
            compared: self.compared("this size", &cause.makes),
            grind: self.grind(&cause.kind.beside(self.known(), cause.amount))?,
        })
    }

    fn unexplained(&self) -> FoundWrong {
        let found = &self.found;
        let best = found.causes.first().map_or_else(String::new, |best| {
            format!(
                " The nearest, {}, still leaves {} on average.",
                self.told(best),
                self.small(best.off)
            )
        });
        let by = if self.asked.slip.size == Length::ZERO {
            "a true cut"
        } else {
            "this size"
        };
        let (first, notes) = (self.push_home(), self.notes());
        let mut advice = String::from(
            "Look for a burr, the seam of a welded tube, an oval or bent tube, scale under the joint, or two \
             slips at once; then measure the gaps again.",
        );
        // The gaps of an end that touches nowhere are not those it has at home.
        let grind = if found.nowhere {
            Vec::new()
        } else {
            advice.push_str(" Only if they stay, grind as told here, from the gaps alone.");
            let tight = self.asked.limits.tight;
            let (off, shorter) = by_eye(self.draft, &self.seen, &found.plain, tight);
            grind_rows(self.draft, off, None, shorter)
        };
        FoundWrong {
            sentence: format!("{first}No single slip explains these gaps.{best}{notes}"),
            advice,
            compared: self.compared(by, &found.expected),
            grind,
        }
    }

    /// What to look at before the next cut, by how this one was made.
    fn advice(&self, cause: &Cause) -> String {
        let what = match (cause.kind, by_saw(self.draft)) {
            (SlipKind::Angle, true) => {
                "Check the angle finder and the machine's scale on a square piece."
            }
            (SlipKind::Angle, false) => {
                "Check the angle finder on a square piece, and the angle that the template was drawn for."
            }
            (SlipKind::Size, true) => {
                "Measure the saw over its teeth in a test cut, and the main itself."
            }
            (SlipKind::Size, false) => {
                "Measure the main itself against the diameter that the template was drawn for, and the ruler \
                 on the sheet."
            }
            (SlipKind::Turn, true) => {
                "Check how the tube lay turned in the clamp, by its zero line."
            }
            (SlipKind::Turn, false) => {
                "Check that the template's zero line lay on the scribed line."
            }
            (SlipKind::Offset, true) => "Check that the saw's centre is level with the tube's.",
            (SlipKind::Offset, false) => {
                "Measure the offset of the main again, and check that the template lay flat and straight."
            }
            (SlipKind::Scale, _) => "Measure the ruler on the sheet.",
        };
        what.to_owned()
    }

    /// What all of it rests on: the diameter that is known, the spacer.
    fn notes(&self) -> String {
        let known = self.asked.size.map_or_else(String::new, |size| {
            format!(" Taken as given: {}.", tool(self.draft, size))
        });
        known + &self.spaced()
    }

    /// That a spacer is in.
    fn spaced(&self) -> String {
        let gap = self.draft.template.cope().gap();
        if gap <= Length::ZERO {
            return String::new();
        }
        let gap = self.small(gap);
        format!(" All gaps are those on top of the {gap} spacer.")
    }

    /// That it touches at no place that was looked at, before all else.
    fn nowhere(&self) -> &'static str {
        match self.found.expected.iter().flatten().count() {
            _ if !self.found.nowhere => "",
            4 => "It touches at none of the four places. ",
            _ => "It touches at none of the places seen. ",
        }
    }

    /// What to do first about an end that touches nowhere, though no stand-off alone gaps so.
    fn push_home(&self) -> String {
        let nowhere = self.nowhere();
        if nowhere.is_empty() {
            return String::new();
        }
        format!(
            "{nowhere}Push it home and measure again. If it is home, something holds it off, or it \
             touches between them. "
        )
    }

    /// Gaps made by what is told, beside those seen.
    fn compared(&self, by: &str, makes: &[Option<Length>; 4]) -> Vec<FitFact> {
        let quarters = [0.0, 1.0, 2.0, 3.0];
        NAMES
            .into_iter()
            .zip(quarters)
            .zip(makes.iter().zip(self.seen.in_turn()))
            .map(|((name, quarter), (makes, seen))| {
                let turn = self.draft.template.heel_turn() + Angle::QUARTER * quarter;
                let name = format!("At the {name}, turn {}", whole_degrees(turn));
                let saw = self.small(seen);
                let (value, remark) = match makes {
                    None => (String::from("beside the main"), String::new()),
                    Some(gap) if *gap >= ROUNDING => (
                        format!("{by} makes {}", self.small(*gap)),
                        format!("seen {saw}"),
                    ),
                    Some(_) if seen >= ROUNDING => {
                        (format!("{by} makes no gap"), format!("seen {saw}"))
                    }
                    Some(_) => (String::from("touches, as seen"), String::new()),
                };
                FitFact::new(name, value, remark)
            })
            .collect()
    }
}

/// Whether the end is cut with a hole saw, and not by hand along a template's line.
fn by_saw(draft: &Draft) -> bool {
    draft.template.cope().method() == CutMethod::Saw
}

/// A saw is of a diameter, a template for one.
fn of_or_for(draft: &Draft) -> &'static str {
    if by_saw(draft) { "of" } else { "for" }
}

/// What cut it, by its diameter.
fn tool(draft: &Draft, size: Length) -> String {
    let what = if by_saw(draft) { "saw" } else { "template" };
    format!("a {what} {} {}", of_or_for(draft), small(size, draft.unit))
}
