//! What is at hand as keys of a link: saws, the machine, the material, stock, and what is asked
//! about the fit. Only what is typed gets a key, each with `hand-` before it, as in
//! `hand-saw-1-diameter=44.5`.

use percent_encoding::utf8_percent_encode;

use crate::job::AtHand;
use crate::job::at_hand::{BarTyped, SawTyped};
use crate::job::fit::Process;
use crate::job::link::ESCAPED;
use crate::joint::MAINS_MAX;

/// Before every key.
pub(super) const HAND: &str = "hand-";
/// Most saws, and most bars, that are looked for in a link.
const MANY: usize = 100;
const PROCESS: &str = "fit-weld";
const MAIN: &str = "fit-main";

/// Every text with its key, without what stands before all of them.
fn texts(own: &mut AtHand) -> Vec<(String, &mut String)> {
    let mut all: Vec<(String, &mut String)> = Vec::new();
    for (at, saw) in own.saws.iter_mut().enumerate() {
        let SawTyped {
            name,
            diameter,
            depth,
            arbor,
            cuts,
            life,
        } = saw;
        for (key, text) in [
            ("name", name),
            ("diameter", diameter),
            ("depth", depth),
            ("arbor", arbor),
            ("cuts", cuts),
            ("life", life),
        ] {
            all.push((format!("saw-{}-{key}", at + 1), text));
        }
    }
    for (at, bar) in own.stock.bars.iter_mut().enumerate() {
        let BarTyped {
            outside,
            wall,
            length,
            count,
        } = bar;
        for (key, text) in [
            ("outside", outside),
            ("wall", wall),
            ("length", length),
            ("count", count),
        ] {
            all.push((format!("bar-{}-{key}", at + 1), text));
        }
    }
    let fit = &mut own.fit;
    for (key, text) in [
        ("kerf", &mut own.stock.kerf),
        ("trim", &mut own.stock.end_trim),
        ("angle-max", &mut own.machine.angle_max),
        ("clamp", &mut own.machine.clamp),
        ("behind", &mut own.machine.behind),
        ("material", &mut own.material),
        ("clearance", &mut own.clearance),
        ("fit-size", &mut fit.size),
        ("fit-angle", &mut fit.angle),
        ("fit-offset", &mut fit.offset),
        ("fit-turn", &mut fit.turn),
        ("fit-printed", &mut fit.printed),
        ("fit-tight", &mut fit.tight),
        ("fit-most", &mut fit.most),
        ("seen-heel", &mut fit.seen_heel),
        ("seen-plus", &mut fit.seen_plus),
        ("seen-toe", &mut fit.seen_toe),
        ("seen-minus", &mut fit.seen_minus),
    ] {
        all.push((key.to_owned(), text));
    }
    all
}

/// Leaves out saws and bars of which nothing is typed.
fn close_up(own: &mut AtHand) {
    own.saws.retain(|saw| *saw != SawTyped::default());
    own.stock.bars.retain(|bar| *bar != BarTyped::default());
}

/// The keys of what is at hand, each with an `&` before it; empty where nothing is. A saw or a bar
/// of which nothing is typed does not travel.
#[must_use]
pub fn write_hand(own: &AtHand) -> String {
    let mut own = own.clone();
    close_up(&mut own);
    let mut link = String::new();
    let mut add = |key: &str, value: &str| {
        if !value.is_empty() {
            for part in ["&", HAND, key, "="] {
                link.push_str(part);
            }
            link.extend(utf8_percent_encode(value, ESCAPED));
        }
    };
    if own.fit.process != Process::default() {
        add(PROCESS, own.fit.process.name());
    }
    if own.fit.main > 0 {
        add(MAIN, &(own.fit.main + 1).to_string());
    }
    for (key, text) in texts(&mut own) {
        add(&key, text.trim());
    }
    link
}

/// What is at hand from the keys and values of a link, and what of it could not be used. Unknown
/// keys are ignored. Saws and bars move up where numbers between them are missing.
pub(super) fn read_hand(pairs: &[(String, String)]) -> (AtHand, Vec<String>) {
    let mut own = AtHand::default();
    let mut problems = Vec::new();
    let hand = || {
        let own = pairs.iter().filter_map(|(key, value)| {
            let key = key.strip_prefix(HAND)?;
            Some((key, value.trim()))
        });
        own.filter(|(_, value)| !value.is_empty())
    };
    let count = |of: &str| {
        let numbers = hand().filter_map(|(key, _)| {
            let (number, _) = key.strip_prefix(of)?.split_once('-')?;
            number.parse::<usize>().ok()
        });
        numbers.filter(|number| *number <= MANY).max()
    };
    own.saws
        .resize(count("saw-").unwrap_or_default(), SawTyped::default());
    own.stock
        .bars
        .resize(count("bar-").unwrap_or_default(), BarTyped::default());
    for (key, value) in hand() {
        match key {
            PROCESS => match Process::ALL.into_iter().find(|one| one.name() == value) {
                Some(process) => own.fit.process = process,
                None => problems.push(format!(
                    "“{HAND}{key}={value}” is not one of {}. The usual one is used instead.",
                    Process::ALL.map(Process::name).join(", ")
                )),
            },
            MAIN => match value.parse::<usize>() {
                Ok(main) if (1..=MAINS_MAX).contains(&main) => own.fit.main = main - 1,
                _ => problems.push(format!(
                    "“{HAND}{key}={value}” is not a number of a main from 1 to {MAINS_MAX}. Main 1 is \
                     used instead."
                )),
            },
            _ => {
                let mut all = texts(&mut own);
                if let Some((_, text)) = all.iter_mut().find(|(own, _)| own == key) {
                    value.clone_into(text);
                }
            }
        }
    }
    close_up(&mut own);
    (own, problems)
}
