//! What stays in the browser between visits: the last form, the printers, the table printed along.

use serde::{Deserialize, Deserializer, Serialize};

use crate::job::Printer;

/// Version of the kept text; a newer one is set aside, not guessed at.
const VERSION: u32 = 1;

/// Everything kept. The form travels as a link, set when it is written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kept {
    version: u32,
    /// The form as a link's fragment.
    #[serde(default)]
    pub link: Option<String>,
    /// Printers by name; at least one. One that cannot be read is left out, not the others with it.
    #[serde(default, deserialize_with = "readable")]
    pub printers: Vec<Printer>,
    /// Which printer is chosen.
    #[serde(default)]
    pub chosen: usize,
    /// Divisions of the table that is printed along, if one is.
    #[serde(default)]
    pub table: Option<u32>,
}

impl Default for Kept {
    fn default() -> Self {
        Self {
            version: VERSION,
            link: None,
            printers: vec![Printer::default()],
            chosen: 0,
            table: None,
        }
    }
}

impl Kept {
    /// Reads what an earlier visit kept.
    ///
    /// # Errors
    /// One sentence when the text is damaged or from a newer version.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut kept: Self = serde_json::from_str(text).map_err(|_| {
            String::from(
                "What this browser kept from the last visit is damaged. It has been set aside and \
                 the usual case is shown; named printers have to be measured again.",
            )
        })?;
        if kept.version != VERSION {
            return Err(format!(
                "What this browser kept is of version {}, this page knows version {VERSION}. It \
                 has been set aside and the usual case is shown.",
                kept.version
            ));
        }
        if kept.printers.is_empty() {
            kept.printers.push(Printer::default());
        }
        kept.chosen = kept.chosen.min(kept.printers.len() - 1);
        kept.table = kept.table.filter(|divisions| TABLES.contains(divisions));
        Ok(kept)
    }

    /// The text to keep.
    #[must_use]
    pub fn write(&self) -> String {
        // Plain numbers and strings always serialise; an empty text would be read as damaged.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The chosen printer.
    #[must_use]
    pub fn printer(&self) -> &Printer {
        self.printers
            .get(self.chosen)
            .or_else(|| self.printers.first())
            .unwrap_or(&PLAIN)
    }

    /// Changes the chosen printer.
    pub fn change_printer(&mut self, by: impl FnOnce(&mut Printer)) {
        if let Some(printer) = self.printers.get_mut(self.chosen) {
            by(printer);
        }
    }

    /// Names the chosen printer. Two printers of one name could not be told apart: the name gets
    /// a number when another one has it.
    pub fn name_printer(&mut self, name: &str) {
        let name = self.free_name(name, Some(self.chosen));
        self.change_printer(|printer| *printer = printer.clone().with_name(name));
    }

    /// The name, or the first of `name 2`, `name 3` … that no printer has, but for one.
    fn free_name(&self, name: &str, but: Option<usize>) -> String {
        let name = name.trim();
        let taken = |name: &str| {
            let mut others = self.printers.iter().enumerate();
            others.any(|(i, printer)| Some(i) != but && printer.name().trim() == name)
        };
        let numbered = |n: usize| format!("{name} {n}");
        if name.is_empty() || !taken(name) {
            return name.to_owned();
        }
        let free = (2..).map(numbered).find(|name| !taken(name));
        free.unwrap_or_default()
    }

    /// Adds a printer, with a number to its name if another one has it, and chooses it.
    pub fn add_printer(&mut self, printer: Printer) {
        let name = self.free_name(printer.name(), None);
        self.printers.push(printer.with_name(name));
        self.chosen = self.printers.len() - 1;
    }

    /// Forgets the chosen printer; the last one is replaced by a plain one.
    pub fn forget_printer(&mut self) {
        if self.chosen < self.printers.len() {
            self.printers.remove(self.chosen);
        }
        if self.printers.is_empty() {
            self.printers.push(Printer::default());
        }
        self.chosen = self.chosen.min(self.printers.len() - 1);
    }
}

/// The printers of a list that can be read.
fn readable<'de, D: Deserializer<'de>>(list: D) -> Result<Vec<Printer>, D::Error> {
    let entries = Vec::<serde_json::Value>::deserialize(list)?;
    Ok(entries
        .into_iter()
        .filter_map(|entry| serde_json::from_value(entry).ok())
        .collect())
}

/// Divisions offered for a table.
pub const TABLES: [u32; 3] = [8, 16, 32];

static PLAIN: std::sync::LazyLock<Printer> = std::sync::LazyLock::new(Printer::default);

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn what_is_kept_comes_back() {
        let mut kept = Kept {
            link: Some(String::from("v=1&angle=45")),
            ..Kept::default()
        };
        kept.add_printer(Printer::default());
        kept.table = Some(16);
        assert_eq!(Kept::read(&kept.write()).unwrap(), kept);
    }

    #[test]
    fn two_printers_never_have_one_name() {
        let mut kept = Kept::default();
        kept.name_printer(" shop laser ");
        kept.add_printer(Printer::new("shop laser"));
        assert_eq!(kept.printer().name(), "shop laser 2");
        kept.add_printer(Printer::new("by the window"));
        kept.name_printer("shop laser");
        assert_eq!(kept.printer().name(), "shop laser 3");
        kept.name_printer("shop laser 3");
        assert_eq!(
            kept.printer().name(),
            "shop laser 3",
            "its own name is free"
        );
        kept.name_printer("");
        assert_eq!(kept.printer().name(), "");
    }

    #[test]
    fn damage_is_told_and_never_fatal() {
        let good = Kept::default().write();
        for end in 0..good.len() {
            assert!(Kept::read(&good[..end]).is_err(), "{}", &good[..end]);
        }
        let newer = good.replace("\"version\":1", "\"version\":2");
        assert!(Kept::read(&newer).unwrap_err().contains("version 2"));
        let mixed = good.replace("[{", "[{\"name\":\"odd\",\"margin_mm\":-3},{");
        assert_eq!(Kept::read(&mixed).unwrap(), Kept::default(), "{mixed}");
        let odd = good.replace("\"chosen\":0", "\"chosen\":99");
        assert_eq!(Kept::read(&odd).unwrap().chosen, 0);
    }
}
