//! One piece of a job.

use crate::job::{Field, PieceForm};
use crate::piece::Side;

/// A piece on the list: everything typed about it, and whether it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct JobPiece {
    id: u32,
    form: PieceForm,
    label: String,
    done: bool,
}

impl JobPiece {
    pub(super) fn new(id: u32, form: PieceForm) -> Self {
        Self {
            id,
            label: label_of(&form),
            form,
            done: false,
        }
    }

    pub(super) fn with_form(self, form: PieceForm) -> Self {
        Self {
            label: label_of(&form),
            form,
            ..self
        }
    }

    pub(super) const fn with_done(mut self, done: bool) -> Self {
        self.done = done;
        self
    }

    /// What tells it from the other pieces of its job, wherever it stands.
    #[must_use]
    pub const fn id(&self) -> u32 {
        self.id
    }

    /// Everything typed about it.
    #[must_use]
    pub const fn form(&self) -> &PieceForm {
        &self.form
    }

    /// Its label without spaces around it; may be empty.
    #[must_use]
    pub fn label(&self) -> &str {
        &self.label
    }

    /// Whether it has been made.
    #[must_use]
    pub const fn is_done(&self) -> bool {
        self.done
    }
}

fn label_of(form: &PieceForm) -> String {
    let end = form.end(Side::A);
    end.text(Field::Label).unwrap_or_default().trim().to_owned()
}

/// Which pieces of the list are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Shown {
    /// All of them.
    #[default]
    All,
    /// Those still to be made.
    ToDo,
    /// Those that have been made.
    Done,
}

impl Shown {
    /// All choices, in the order offered.
    pub const ALL: [Self; 3] = [Self::All, Self::ToDo, Self::Done];

    /// Its name on the page.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::All => "all",
            Self::ToDo => "to do",
            Self::Done => "done",
        }
    }

    /// Whether a piece is among them.
    #[must_use]
    pub const fn holds(self, piece: &JobPiece) -> bool {
        match self {
            Self::All => true,
            Self::ToDo => !piece.done,
            Self::Done => piece.done,
        }
    }
}
