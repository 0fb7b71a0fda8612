//! Undo and redo: every change can be taken back.

/// A value with the ones it had before and the ones undone.
#[derive(Debug, Clone)]
pub struct History<T, K> {
    now: T,
    past: Vec<T>,
    future: Vec<T>,
    last: Option<K>,
}

/// Steps kept.
const DEPTH: usize = 500;

impl<T: Clone + PartialEq, K: Copy + PartialEq> History<T, K> {
    /// A history that starts here.
    pub const fn new(now: T) -> Self {
        Self {
            now,
            past: Vec::new(),
            future: Vec::new(),
            last: None,
        }
    }

    /// The value as it stands.
    pub const fn now(&self) -> &T {
        &self.now
    }

    /// The values that can be gone back to, oldest first, and the one as it stands.
    pub fn all(&self) -> impl Iterator<Item = &T> {
        self.past.iter().chain([&self.now])
    }

    /// Takes a new value. Changes of the same kind in a row (keystrokes in one field) are one
    /// step back, until [`History::pause`].
    pub fn change(&mut self, to: T, kind: K) {
        if to == self.now {
            return;
        }
        let before = std::mem::replace(&mut self.now, to);
        if self.last != Some(kind) {
            self.past.push(before);
            if self.past.len() > DEPTH {
                self.past.remove(0);
            }
        }
        self.last = Some(kind);
        self.future.clear();
    }

    /// Changes the value as it stands and every kept one, without a step: for what comes from
    /// elsewhere and cannot be taken back here.
    pub fn amend(&mut self, by: impl Fn(&mut T)) {
        by(&mut self.now);
        self.past.iter_mut().chain(&mut self.future).for_each(by);
    }

    /// Changes the value as it stands, without a step.
    pub fn amend_now(&mut self, by: impl FnOnce(&mut T)) {
        by(&mut self.now);
    }

    /// Ends a row of changes: the next one is a step of its own.
    pub const fn pause(&mut self) {
        self.last = None;
    }

    /// Goes one step back; false when there is none.
    pub fn undo(&mut self) -> bool {
        self.last = None;
        let Some(before) = self.past.pop() else {
            return false;
        };
        self.future.push(std::mem::replace(&mut self.now, before));
        true
    }

    /// Goes one undone step forward again; false when there is none.
    pub fn redo(&mut self) -> bool {
        self.last = None;
        let Some(after) = self.future.pop() else {
            return false;
        };
        self.past.push(std::mem::replace(&mut self.now, after));
        true
    }

    /// Whether there is a step to take back.
    pub const fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is an undone step.
    pub const fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typing_in_one_field_is_one_step_and_everything_comes_back() {
        let mut history = History::new(String::from("0"));
        for text in ["1", "12", "125"] {
            history.change(text.into(), 'a');
        }
        history.change(String::from("125 b"), 'b');
        history.pause();
        history.change(String::from("125 bb"), 'b');
        assert!(history.undo() && history.now() == "125 b");
        assert!(history.undo() && history.now() == "125");
        assert!(history.undo() && history.now() == "0");
        assert!(!history.undo());
        assert!(history.redo() && history.redo() && history.now() == "125 b");
        history.change(String::from("new"), 'c');
        assert!(!history.can_redo());
    }

    #[test]
    fn what_comes_from_elsewhere_is_not_undone() {
        let mut history = History::new((1, "a"));
        history.change((2, "a"), 'n');
        history.amend(|value| value.1 = "b");
        assert!(!history.can_redo() && history.now() == &(2, "b"));
        assert!(history.undo() && history.now() == &(1, "b"));
        assert!(history.redo() && history.now() == &(2, "b"));
    }

    #[test]
    fn a_change_to_the_same_value_is_no_step() {
        let mut history = History::new(1);
        history.change(1, 'a');
        assert!(!history.can_undo());
    }
}
