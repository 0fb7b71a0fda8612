//! Jobs to print, made as the page makes them: from what is typed.

use copewright::job::shop::{
    Blank, Cut, CutList, CutNotes, Loss, RunList, Saw, Setting, StockBar, cut_list, run_list,
};
use copewright::job::{Draft, PieceDraft, open_form, read, read_piece};
use copewright::joint::Shape;
use copewright::piece::{Clamps, Side, kg_per_metre};
use copewright::sheet::packet::{
    JobOrder, PacketError, Parts, PieceToPrint, TubeCutList, lay_out_job,
};
use copewright::stock::Density;

use crate::common::*;

/// Numbers that look random and are the same every time (Knuth's multiplicative hash, The Art of
/// Computer Programming 3, 6.4, mixed once more).
pub struct Random(pub u32);

impl Random {
    pub fn below(&mut self, count: u32) -> u32 {
        self.0 = self.0.wrapping_add(1);
        let mixed = self.0.wrapping_mul(2_654_435_761);
        let mixed = (mixed ^ (mixed >> 15)).wrapping_mul(2_246_822_519);
        (mixed ^ (mixed >> 13)) % count
    }

    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len() as u32) as usize]
    }
}

pub struct OwnPiece {
    pub label: String,
    pub count: u32,
    pub done: bool,
    pub draft: Option<PieceDraft>,
    pub ends: [Option<Draft>; 2],
    pub link: String,
}

impl OwnPiece {
    pub fn new(label: &str, fragment: &str) -> Self {
        let opened = open_form(fragment);
        assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        let form = opened.form;
        let whole = form.is_whole();
        let ends = Side::BOTH.map(|side| {
            let asked = if whole {
                form.kind(side) == copewright::job::EndKind::Coped
            } else {
                side == Side::A
            };
            asked.then(|| read(&form.end(side)).unwrap())
        });
        let both = [ends[0].as_ref(), ends[1].as_ref()];
        let draft = whole.then(|| read_piece(&form, both).expect(fragment));
        Self {
            label: label.to_owned(),
            count: draft.as_ref().map_or(1, |draft| draft.count),
            done: false,
            draft,
            ends,
            link: format!("https://copewright.example/#{fragment}"),
        }
    }

    /// The templates there are, with their ends.
    pub fn templates(&self) -> Vec<(Side, &Template)> {
        let of = |side: Side| match &self.draft {
            Some(draft) => draft.piece.end(side).template(),
            None => self.ends[side.index()].as_ref().map(|end| &end.template),
        };
        let each = Side::BOTH.into_iter();
        each.filter_map(|side| Some((side, of(side)?))).collect()
    }
}

pub struct Job {
    pub unit: Unit,
    pub pieces: Vec<OwnPiece>,
    pub pairs: Vec<[usize; 2]>,
    pub cuts: Vec<Cut>,
    pub run: RunList,
    pub blanks: Vec<Blank>,
    pub stock: Vec<StockBar>,
    pub list: CutList,
    pub loss: Loss,
    pub kg_per_metre: f64,
}

impl Job {
    pub fn of(unit: Unit, pieces: Vec<OwnPiece>, pairs: Vec<[usize; 2]>) -> Self {
        let mut cuts = Vec::new();
        let mut blanks = Vec::new();
        for piece in &pieces {
            for (side, template) in piece.templates() {
                let main = template.cope().joint().main();
                let saw = match main.shape() {
                    Shape::Round { radius } => Saw::Hole(*radius * 2.0),
                    _ => Saw::Grinder,
                };
                cuts.push(Cut {
                    piece: piece.label.clone(),
                    end: side,
                    saw,
                    setting: Setting {
                        off_square: Some(template.cope().joint().off_square()),
                        offset: Some(main.offset()),
                        turn: Some(template.heel_turn()),
                        first: Some(side),
                    },
                    count: piece.count as usize,
                    notes: CutNotes::default(),
                });
            }
            if let Some(draft) = &piece.draft {
                blanks.push(Blank {
                    name: piece.label.clone(),
                    length: draft.marks.blank.length.on_tape,
                    count: piece.count as usize,
                });
            }
        }
        let stock = vec![
            StockBar {
                length: mm(6000.0),
                available: None,
            },
            StockBar {
                length: mm(2400.0),
                available: Some(2),
            },
        ];
        let loss = Loss {
            kerf: mm(3.0),
            trim: mm(10.0),
        };
        let tube = pieces[0].templates().first().map_or_else(
            || RoundTube::new(mm(42.4), mm(2.6)).unwrap(),
            |(_, template)| *template.cope().joint().branch(),
        );
        Self {
            unit,
            run: run_list(&cuts).unwrap(),
            list: cut_list(&blanks, &stock, loss).unwrap(),
            kg_per_metre: kg_per_metre(&tube, Density::STEEL),
            pieces,
            pairs,
            cuts,
            blanks,
            stock,
            loss,
        }
    }

    /// Does something with the order of the job.
    pub fn with<T>(
        &self,
        (paper, printer): (Paper, &Printer),
        parts: Parts,
        then: impl FnOnce(&JobOrder) -> T,
    ) -> T {
        let pieces = self.pieces.iter().enumerate();
        let pieces: Vec<PieceToPrint> = pieces
            .map(|(at, own)| PieceToPrint {
                number: at + 1,
                label: &own.label,
                count: own.count,
                done: own.done,
                draft: own.draft.as_ref(),
                ends: [own.ends[0].as_ref(), own.ends[1].as_ref()],
                link: &own.link,
                saws: [&[], &[]],
            })
            .collect();
        let cut_lists = [TubeCutList {
            tube: "42.4 mm, wall 2.6 mm",
            kg_per_metre: self.kg_per_metre,
            blanks: &self.blanks,
            stock: &self.stock,
            loss: self.loss,
            list: &self.list,
        }];
        then(&JobOrder {
            title: "Launching trolley",
            pieces: &pieces,
            pairs: &self.pairs,
            unit: self.unit,
            density: Some(Density::STEEL),
            clamps: Clamps::default(),
            paper,
            printer,
            date: "14 May 2026",
            link: LINK,
            run_list: Some((&self.cuts, &self.run)),
            cut_lists: &cut_lists,
            parts,
        })
    }

    pub fn print(
        &self,
        paper: Paper,
        printer: &Printer,
        parts: Parts,
    ) -> Result<Packet, PacketError> {
        self.with((paper, printer), parts, |order| {
            lay_out_job(order, &mut |_, _| true)
        })
    }
}

/// One part alone.
pub const NONE: Parts = Parts {
    contents: false,
    cut_list: false,
    run_list: false,
    templates: false,
    landings: false,
    tables: None,
    piece_sheets: false,
    comparison: false,
};

/// The fragment of a piece: tube and wall, then of each end main, angle, offset and turn.
pub fn fragment(unit: &str, tube: (f64, f64), ends: [Coped; 2], length: f64, count: u32) -> String {
    let (branch, wall) = tube;
    let [(main, angle, offset, turn), b] = ends;
    format!(
        "v=1&unit={unit}&branch={branch}&wall={wall}&main={main}&angle={angle}&offset={offset}\
         &cut=saw&gap=0&turn={turn}&paper=A4&piece=yes&a=coped&b=coped&measured=centres\
         &count={count}&length={length}&b-main={}&b-angle={}&b-offset={}&b-cut=saw&b-gap=0\
         &b-turn={}",
        b.0, b.1, b.2, b.3
    )
}

/// Main, angle, offset and turn of an end.
pub type Coped = (f64, f64, f64, f64);

const NAMES: [&str; 10] = [
    "Drawbar",
    "Axle beam",
    "Left upright",
    "Right upright",
    "Left brace",
    "Right brace",
    "Bow rest",
    "Handle",
    "Keel chock, second from the bow",
    "Strut",
];

/// A job of pieces that look random, of one tube.
pub fn random(seed: u32, pieces: u32, tube: (f64, f64)) -> Job {
    let mut random = Random(seed * 10_007);
    let main = |random: &mut Random| {
        let wider = random.pick(&[1.0, 1.14, 1.42, 1.8]);
        (tube.0 * wider * 10.0).round() / 10.0
    };
    let pieces = (0..pieces).map(|_| {
        let ends = [0, 1].map(|_| {
            let main = main(&mut random);
            let angle = random.pick(&[90.0, 75.0, 60.0, 45.0, 37.5]);
            let offset = random.pick(&[0.0, 0.0, 0.05, -0.1]) * tube.0;
            (main, angle, offset, f64::from(random.below(24)) * 15.0)
        });
        let length = 5.0 * tube.0 + 200.0 + f64::from(random.below(900));
        let count = 1 + random.below(4);
        let label = random.pick(&NAMES);
        let label = format!("{label} {}", random.below(90));
        OwnPiece::new(&label, &fragment("mm", tube, ends, length, count))
    });
    Job::of(Unit::Millimetre, pieces.collect(), Vec::new())
}

/// Some pieces of a launching trolley with a pair of braces.
pub fn trolley() -> Job {
    let tube = (42.4, 2.6);
    let piece = |label: &str, ends, length, count| {
        OwnPiece::new(label, &fragment("mm", tube, ends, length, count))
    };
    let pieces = vec![
        piece(
            "Axle beam",
            [(48.3, 90.0, 0.0, 0.0), (48.3, 90.0, 0.0, 90.0)],
            1180.0,
            1,
        ),
        piece(
            "Left brace",
            [(48.3, 60.0, 5.0, 0.0), (48.3, 45.0, 0.0, 30.0)],
            620.0,
            2,
        ),
        piece(
            "Right brace",
            [(48.3, 60.0, -5.0, 0.0), (48.3, 45.0, 0.0, -30.0)],
            620.0,
            2,
        ),
        piece(
            "Upright",
            [(60.3, 75.0, 0.0, 0.0), (48.3, 90.0, 0.0, 180.0)],
            410.0,
            4,
        ),
        OwnPiece::new(
            "Mast foot",
            "v=1&unit=mm&branch=42.4&wall=2.6&main=76.1&angle=25&offset=10&cut=square&gap=1&turn=45&paper=A4&landing=yes",
        ),
    ];
    Job::of(Unit::Millimetre, pieces, vec![[1, 2]])
}

/// The same trolley in inches.
pub fn in_inches() -> Job {
    let tube = (1.75, 0.083);
    let piece = |label: &str, ends, length, count| {
        OwnPiece::new(label, &fragment("in", tube, ends, length, count))
    };
    let pieces = vec![
        piece(
            "Axle beam",
            [(2.0, 90.0, 0.0, 0.0), (2.0, 90.0, 0.0, 90.0)],
            46.5,
            1,
        ),
        piece(
            "Brace",
            [(2.0, 60.0, 0.25, 0.0), (2.0, 45.0, 0.0, 30.0)],
            24.375,
            6,
        ),
    ];
    Job::of(Unit::Fraction(Denominator::Sixteenth), pieces, Vec::new())
}
