//! One browser for all tests of a file: starting one takes longer than most tests.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError, Weak};

use crate::{Device, Page};

/// A browser that tests take turns with. It starts with the first test and ends with the last
/// one that waits for it.
pub struct SharedPage {
    device: Device,
    open: Mutex<Weak<Mutex<Page>>>,
}

impl SharedPage {
    /// A browser of the built site, not started yet.
    #[must_use]
    pub const fn new(device: Device) -> Self {
        Self {
            device,
            open: Mutex::new(Weak::new()),
        }
    }

    /// Waits for its turn and runs a test on the page, as on a first visit: nothing stored, the
    /// window as it was at the start.
    ///
    /// # Panics
    /// When the test does, and when the page had troubles meanwhile.
    #[track_caller]
    pub fn visit<T>(&self, test: impl FnOnce(&Page) -> T) -> T {
        let page = self.page();
        let page = free(&page);
        page.visit_for_the_first_time(self.device.size);
        let outcome = test(&page);
        let troubles = page.troubles();
        assert!(troubles.is_empty(), "troubles: {troubles:#?}");
        outcome
    }

    fn page(&self) -> Arc<Mutex<Page>> {
        let mut open = free(&self.open);
        open.upgrade().unwrap_or_else(|| {
            let page = Arc::new(Mutex::new(Page::open_on(self.device)));
            *open = Arc::downgrade(&page);
            page
        })
    }
}

/// A failed test leaves the browser usable: every visit starts afresh.
fn free<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
