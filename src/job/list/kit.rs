//! The user's kit: saws, the machine and the pre-cut's clearance, kept apart from any job.
//!
//! A job carries what it was planned with, so that its prints and links stay as they are; the kit
//! is what the user's next job begins with.

use crate::job::list::{Job, at_hand_in_unit, open_job, write_job};
use crate::job::{AtHand, SawTyped};
use crate::units::{Denominator, Unit};

/// What the user has, as typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kit {
    /// What a bare number in it means.
    unit: Unit,
    /// Nothing but saws, machine and clearance.
    own: AtHand,
}

impl Kit {
    /// A kit with nothing in it.
    #[must_use]
    pub fn none(unit: Unit) -> Self {
        Self {
            unit,
            own: AtHand::default(),
        }
    }

    /// What of a kit a job was planned with.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let AtHand {
            saws,
            machine,
            clearance,
            ..
        } = job.at_hand().clone();
        Self {
            unit: job.unit(),
            own: AtHand {
                saws,
                machine,
                clearance,
                ..AtHand::default()
            },
        }
    }

    /// Whether nothing is typed in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.plain() == AtHand::default()
    }

    /// Whether both say the same, in whatever unit.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        self.plain() == other.plain()
    }

    /// The kit without lines of which nothing is typed, and with a unit behind every length.
    fn plain(&self) -> AtHand {
        let elsewhere = if self.unit.is_inch() {
            Unit::Millimetre
        } else {
            Unit::Fraction(Denominator::Sixteenth)
        };
        let mut own = at_hand_in_unit(&self.own, self.unit, elsewhere);
        own.saws.retain(|saw| *saw != SawTyped::default());
        own
    }

    /// Whether a job has nothing else at hand than this kit, or nothing at all.
    #[must_use]
    pub fn is_all_of(&self, job: &Job) -> bool {
        let own = Self::of(job);
        let rest = Self::none(job.unit()).given_to(job.clone());
        *rest.at_hand() == AtHand::default() && (own.is_empty() || own.is_same(self))
    }

    /// A job with this kit in place of its own; its stock, its material and what is asked about
    /// its fit stay.
    #[must_use]
    pub fn given_to(&self, job: Job) -> Job {
        let AtHand {
            saws,
            machine,
            clearance,
            ..
        } = at_hand_in_unit(&self.own, self.unit, job.unit());
        let own = AtHand {
            saws,
            machine,
            clearance,
            ..job.at_hand().clone()
        };
        job.with_at_hand(own)
    }

    /// The kit as a text that [`Kit::read`] reads: the file of a job with nothing else typed in it.
    #[must_use]
    pub fn write(&self) -> String {
        write_job(&self.given_to(Job::usual(self.unit)))
    }

    /// A kit that was kept, and what of it was damaged.
    ///
    /// # Errors
    /// A sentence where it is no kit, or one of a newer version.
    pub fn read(text: &str) -> Result<(Self, Vec<String>), String> {
        let opened = open_job(text)?;
        Ok((Self::of(&opened.job), opened.told))
    }
}
