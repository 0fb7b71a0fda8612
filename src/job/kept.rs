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

    /// Adds a printer and chooses it.
    pub fn add_printer(&mut self, printer: Printer) {
        self.printers.push(printer);
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
