//! One end of a piece: coped, cut square, or left as it is.

use crate::cope::Cope;
use crate::piece::{Template, Wrap};
use crate::units::{Angle, Length};

/// Which end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// End A, where turns are sighted from.
    A,
    /// End B.
    B,
}

impl Side {
    /// Both ends.
    pub const BOTH: [Self; 2] = [Self::A, Self::B];

    /// Its place in a pair: 0 for A, 1 for B.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Self::A => 0,
            Self::B => 1,
        }
    }

    /// The other end.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }

    /// `end A` or `end B`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A => "end A",
            Self::B => "end B",
        }
    }

    /// [`Self::name`] for the start of a sentence.
    pub const fn at_start(self) -> &'static str {
        match self {
            Self::A => "End A",
            Self::B => "End B",
        }
    }

    /// `A` or `B`.
    pub const fn letter(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
        }
    }

    /// A turn of the piece (sighted along the tube from end A, clockwise) as the template of this
    /// end counts it, and the other way round. A template's turns grow clockwise for someone who
    /// faces its own end, so those of end B run against the piece's.
    #[must_use]
    pub fn own_turn(self, turn: Angle) -> Angle {
        match self {
            Self::A => turn.within_turn(),
            Self::B => (Angle::ZERO - turn).within_turn(),
        }
    }
}

/// How an end is made.
#[derive(Debug, Clone, PartialEq)]
pub enum End {
    /// Coped to what it sits on. The template's turns count from the piece's zero line, in the
    /// template's own way ([`Side::own_turn`]).
    Coped(Box<Template>),
    /// Cut square.
    Square,
    /// Left as it came.
    AsItIs,
}

impl End {
    /// A coped end.
    ///
    /// `heel` is the turn of the heel from the zero line, sighted along the tube from end A,
    /// clockwise, whichever end it is. `step` is as in [`Template::new`].
    #[must_use]
    pub fn coped(side: Side, cope: Cope, wrap: Wrap, heel: Angle, step: Length) -> Self {
        let heel = side.own_turn(heel);
        Self::Coped(Box::new(Template::new(cope, wrap, heel, step)))
    }

    /// The template of a coped end.
    #[must_use]
    pub fn template(&self) -> Option<&Template> {
        match self {
            Self::Coped(template) => Some(template),
            Self::Square | Self::AsItIs => None,
        }
    }

    /// From the joint centre to the long point; 0 for an end that is not coped, whose joint
    /// centre is the middle of its face.
    #[must_use]
    pub fn centre_to_long(&self) -> Length {
        self.template()
            .map_or(Length::ZERO, |template| template.cope().long_point().height)
    }

    /// From the joint centre to the short point; 0 for an end that is not coped.
    #[must_use]
    pub fn centre_to_short(&self) -> Length {
        self.template().map_or(Length::ZERO, |template| {
            template.cope().short_point().height
        })
    }

    /// From the long point to the mark line; 0 for an end that is not coped: the end is the mark.
    #[must_use]
    pub fn long_to_mark(&self) -> Length {
        self.template().map_or(Length::ZERO, Template::mark_to_long)
    }

    /// The same end for a zero line elsewhere: every turn of the piece grows by `by`.
    pub(super) fn turned(&self, side: Side, by: Angle) -> Self {
        let by = match side {
            Side::A => by,
            Side::B => Angle::ZERO - by,
        };
        match self {
            Self::Coped(template) => Self::Coped(Box::new(template.turned(by))),
            own => own.clone(),
        }
    }
}
