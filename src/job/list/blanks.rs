//! What a job needs of which tube: its blanks, the stock they come from, and their mass.

use crate::job::list::{Job, JobPiece, Shown};
use crate::job::shop::{
    Blank, CutList, CutListError, KERF_MAX, Loss, STOCK_MAX, STOCK_MIN, StockBar, TRIM_MAX,
    cut_list,
};
use crate::job::{
    BarTyped, Draft, PieceDraft, PieceForm, PieceProblem, StockTyped, read, read_piece,
};
use crate::piece::{Side, kg_per_metre};
use crate::stock::{MATERIALS, Material};
use crate::units::{Length, Unit, read_length, write_length};

/// Sizes within this are of one tube.
const SAME: Length = Length::from_mm(0.02);

/// Where the usual stock comes from, for what is shown beside it.
pub const USUAL_STOCK_SOURCE: &str = "Bars of 6 m, or 20 ft; a saw cut of 2.5 mm, or 3/32 in; 10 mm, or 1/2 in, off each new bar: common practice, no source.";

/// One tube of a job, with everything that is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct TubeGroup {
    /// Outside diameter.
    pub outside: Length,
    /// Wall.
    pub wall: Length,
    /// Mass of a metre in the job's material.
    pub kg_per_metre: f64,
    /// What is cut, in the order of the list.
    pub blanks: Vec<Blank>,
    /// The piece of each blank, by its id.
    pub pieces: Vec<u32>,
    /// Bars it can be cut from.
    pub stock: Vec<StockBar>,
    /// Whether the usual bars stand in for stock that is not typed.
    pub usual_stock: bool,
}

impl TubeGroup {
    /// Length of all blanks together.
    #[must_use]
    pub fn length(&self) -> Length {
        let all = |blank: &Blank| blank.length * blank.count as f64;
        self.blanks.iter().map(all).sum()
    }

    /// Mass of all blanks together, kg.
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        crate::job::shop::mass_kg(self.length(), self.kg_per_metre)
    }

    /// Which blank comes from which bar.
    ///
    /// # Errors
    /// As [`cut_list`]; what is typed of stock has been checked before.
    pub fn cut_list(&self, loss: Loss) -> Result<CutList, CutListError> {
        cut_list(&self.blanks, &self.stock, loss)
    }
}

/// What a job is cut from.
#[derive(Debug, Clone, PartialEq)]
pub struct Blanks {
    /// Every tube, in the order of the list.
    pub groups: Vec<TubeGroup>,
    /// What each cut and each new bar costs.
    pub loss: Loss,
    /// What the tube is made of.
    pub material: &'static Material,
    /// What could not be used: pieces without a length, stock that cannot be read.
    pub told: Vec<String>,
}

/// The form of a piece read by itself: both ends, and what joins them.
///
/// # Errors
/// As [`read_piece`].
pub fn read_form(form: &PieceForm) -> Result<PieceDraft, Vec<PieceProblem>> {
    let ends: [Option<Draft>; 2] = Side::BOTH.map(|side| read(&form.end(side)).ok());
    read_piece(form, [ends[0].as_ref(), ends[1].as_ref()])
}

/// The blanks of the pieces shown, by tube. `draft` gives a piece as it was read, most often from
/// what the caller has kept ([`read_form`] reads one); `None` for one that cannot be made.
pub fn blanks(
    job: &Job,
    shown: Shown,
    mut draft: impl FnMut(&JobPiece) -> Option<PieceDraft>,
) -> Blanks {
    let mut read = Reading {
        unit: job.unit(),
        told: Vec::new(),
    };
    let material = read.material(&job.at_hand().material);
    let mut groups: Vec<TubeGroup> = Vec::new();
    for (place, piece) in job.shown(shown) {
        let name = job.name_at(place);
        if !piece.form().is_whole() {
            let sentence =
                format!("“{name}” is one end alone and has no length; it is not among the blanks.");
            read.told.push(sentence);
            continue;
        }
        let Some(draft) = draft(piece) else {
            let sentence =
                format!("“{name}” cannot be made as it is typed; it is not among the blanks.");
            read.told.push(sentence);
            continue;
        };
        let tube = draft.piece.tube();
        let (outside, wall) = (tube.outside(), tube.wall());
        let blank = Blank {
            name,
            length: draft.piece.lengths().blank,
            count: draft.count as usize,
        };
        let same = |group: &&mut TubeGroup| near(group.outside, outside) && near(group.wall, wall);
        if let Some(group) = groups.iter_mut().find(same) {
            group.blanks.push(blank);
            group.pieces.push(piece.id());
        } else {
            groups.push(TubeGroup {
                outside,
                wall,
                kg_per_metre: kg_per_metre(tube, material.density),
                blanks: vec![blank],
                pieces: vec![piece.id()],
                stock: Vec::new(),
                usual_stock: false,
            });
        }
    }
    let typed = &job.at_hand().stock;
    for (number, bar) in typed.bars.iter().enumerate() {
        let Some(bar) = read.bar(number + 1, bar) else {
            continue;
        };
        let fits = |size: Option<Length>, own: Length| size.is_none_or(|size| near(size, own));
        for group in &mut groups {
            if fits(bar.outside, group.outside) && fits(bar.wall, group.wall) {
                group.stock.push(bar.stock);
            }
        }
    }
    for group in groups.iter_mut().filter(|group| group.stock.is_empty()) {
        group.usual_stock = true;
        group.stock.push(StockBar {
            length: read.usual(Length::from_mm(6000.0), Length::from_inches(240.0)),
            available: None,
        });
    }
    let loss = read.loss(typed);
    Blanks {
        groups,
        loss,
        material,
        told: read.told,
    }
}

/// What of the stock at hand cannot be used, one sentence each, and what is taken instead.
#[must_use]
pub fn stock_problems(stock: &StockTyped, unit: Unit) -> Vec<String> {
    let mut read = Reading {
        unit,
        told: Vec::new(),
    };
    for (number, bar) in stock.bars.iter().enumerate() {
        let _ = read.bar(number + 1, bar);
    }
    read.loss(stock);
    read.told
}

fn near(one: Length, other: Length) -> bool {
    (one - other).abs() <= SAME
}

/// A bar as typed, read.
struct Bar {
    outside: Option<Length>,
    wall: Option<Length>,
    stock: StockBar,
}

/// Reads what is typed of stock, and tells what cannot be used.
struct Reading {
    unit: Unit,
    told: Vec<String>,
}

impl Reading {
    fn usual(&self, metric: Length, inch: Length) -> Length {
        if self.unit.is_inch() { inch } else { metric }
    }

    fn loss(&mut self, typed: &StockTyped) -> Loss {
        let (kerf, trim) = (
            self.usual(Length::from_mm(2.5), Length::from_inches(3.0 / 32.0)),
            self.usual(Length::from_mm(10.0), Length::from_inches(0.5)),
        );
        Loss {
            kerf: self.within("Saw cut", &typed.kerf, Length::ZERO, KERF_MAX, kerf),
            trim: self.within("End trim", &typed.end_trim, Length::ZERO, TRIM_MAX, trim),
        }
    }

    /// The material of a name; steel for none.
    fn material(&mut self, name: &str) -> &'static Material {
        let name = name.trim();
        let found = MATERIALS
            .iter()
            .find(|own| own.name.eq_ignore_ascii_case(name));
        if found.is_none() && !name.is_empty() {
            let names: Vec<&str> = MATERIALS.iter().map(|own| own.name).collect();
            self.told.push(format!(
                "“{name}” is not one of {}; masses are for {}.",
                names.join(", "),
                MATERIALS[0].name
            ));
        }
        found.unwrap_or(&MATERIALS[0])
    }

    /// A length within limits; the usual one for none and for one that cannot be used.
    fn within(
        &mut self,
        name: &str,
        text: &str,
        min: Length,
        max: Length,
        usual: Length,
    ) -> Length {
        if text.trim().is_empty() {
            return usual;
        }
        let write = |length| write_length(length, self.unit);
        let sentence = match read_length(text, self.unit) {
            Ok(length) if length >= min && length <= max => return length,
            Ok(length) => format!(
                "{name}: {} is outside {} to {}; {} is taken instead.",
                write(length),
                write(min),
                write(max),
                write(usual)
            ),
            Err(error) => format!("{name}: {error}; {} is taken instead.", write(usual)),
        };
        self.told.push(sentence);
        usual
    }

    /// A bar; `None` where something of it cannot be used.
    fn bar(&mut self, number: usize, typed: &BarTyped) -> Option<Bar> {
        let mut wrong = Vec::new();
        let mut optional = |text: &str| {
            if text.trim().is_empty() {
                return None;
            }
            read_length(text, self.unit)
                .map_err(|error| wrong.push(error.to_string()))
                .ok()
        };
        let (outside, wall) = (optional(&typed.outside), optional(&typed.wall));
        let length = match read_length(&typed.length, self.unit) {
            Ok(length) if length >= STOCK_MIN && length <= STOCK_MAX => length,
            Ok(length) => {
                let write = |length| write_length(length, self.unit);
                wrong.push(format!(
                    "a bar of {} is outside {} to {}",
                    write(length),
                    write(STOCK_MIN),
                    write(STOCK_MAX)
                ));
                Length::ZERO
            }
            Err(error) => {
                wrong.push(error.to_string());
                Length::ZERO
            }
        };
        let count = typed.count.trim();
        let available = match count.parse::<usize>() {
            Ok(available) => Some(available),
            Err(_) if count.is_empty() => None,
            Err(_) => {
                wrong.push(format!(
                    "“{count}” is no number of bars; type a whole one, or nothing for as many as \
                     needed"
                ));
                None
            }
        };
        if wrong.is_empty() {
            let stock = StockBar { length, available };
            return Some(Bar {
                outside,
                wall,
                stock,
            });
        }
        self.told
            .push(format!("Stock {number} is left out: {}.", wrong.join("; ")));
        None
    }
}
