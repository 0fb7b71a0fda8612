//! Everything that one print makes, in order: each end, and behind it its landings and its table.

use crate::job::{Draft, Printer};
use crate::piece::Side;
use crate::sheet::{Order, Packet, lay_out, lay_out_landing, lay_out_table};
use crate::stock::Paper;

/// What is to be printed.
pub struct Wanted<'a> {
    /// The ends that are coped.
    pub ends: [Option<&'a Draft>; 2],
    /// Whether the piece is more than an end.
    pub whole: bool,
    /// Link that opens it again.
    pub link: &'a str,
    /// Date in words.
    pub date: &'a str,
    /// The paper in it.
    pub paper: Paper,
    /// The printer.
    pub printer: &'a Printer,
    /// What is to be said about the saw at each end, each line with its caption.
    pub saws: [&'a [(&'static str, String)]; 2],
    /// Divisions of the table that is printed along, if one is.
    pub divisions: Option<u32>,
}

/// Lays it all out.
pub fn packet(wanted: &Wanted) -> Result<Packet, String> {
    let mut all: Option<Packet> = None;
    for side in Side::BOTH {
        let Some(draft) = wanted.ends[side.index()] else {
            continue;
        };
        let label = match (wanted.whole, draft.label.is_empty()) {
            (false, _) => draft.label.clone(),
            (true, true) => String::from(side.at_start()),
            (true, false) => format!("{}, {}", draft.label, side.name()),
        };
        let order = Order {
            template: &draft.template,
            unit: draft.unit,
            label: &label,
            link: wanted.link,
            date: wanted.date,
            paper: draft.paper,
            printer: wanted.printer,
            saw: wanted.saws[side.index()],
        };
        let mut packet = lay_out(&order).map_err(|error| error.sentence())?;
        for (number, landing) in draft.landings.iter().enumerate() {
            match landing {
                Ok(landing) => match lay_out_landing(&order, landing) {
                    Ok(more) => packet.pages.extend(more.pages),
                    Err(error) => packet.notes.push(error.sentence()),
                },
                Err(why) => packet.notes.push(why.sentence(number + 1)),
            }
        }
        if let Some(divisions) = wanted.divisions {
            packet.pages.extend(lay_out_table(&order, divisions).pages);
        }
        add(&mut all, packet);
    }
    all.ok_or_else(|| String::from("Neither end is coped: there is no template to print."))
}

/// Puts more sheets behind those there are.
fn add(all: &mut Option<Packet>, packet: Packet) {
    match all {
        None => *all = Some(packet),
        Some(all) => {
            all.pages.extend(packet.pages);
            all.notes.extend(packet.notes);
        }
    }
}
