//! Browsers for all tests of a file: starting one takes longer than most tests.

use std::ops::Deref;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, Weak};
use std::thread::panicking;

use crate::{Device, Page};

/// Browsers that tests take turns with, as many as tests run at once. They start with the first
/// tests and end with the last one.
pub struct SharedPage {
    device: Device,
    open: Mutex<Weak<Idle>>,
}

/// The browsers that no test drives now. Every running test holds all of them.
type Idle = Mutex<Vec<Page>>;

impl SharedPage {
    /// Browsers of the built site, not started yet.
    #[must_use]
    pub const fn new(device: Device) -> Self {
        Self {
            device,
            open: Mutex::new(Weak::new()),
        }
    }

    /// Runs a test on a page, as on a first visit: nothing stored, the window as it was at the
    /// start.
    ///
    /// # Panics
    /// When the test does, and when the page had troubles meanwhile.
    #[track_caller]
    pub fn visit<T>(&self, test: impl FnOnce(&Page) -> T) -> T {
        let idle = self.idle();
        let taken = free(&idle).pop();
        let page = Taken {
            page: Some(taken.unwrap_or_else(|| Page::open_on(self.device))),
            idle,
        };
        page.visit_for_the_first_time(self.device.size);
        let outcome = test(&page);
        let troubles = page.troubles();
        assert!(troubles.is_empty(), "troubles: {troubles:#?}");
        outcome
    }

    fn idle(&self) -> Arc<Idle> {
        let mut open = free(&self.open);
        open.upgrade().unwrap_or_else(|| {
            let idle = Arc::default();
            *open = Arc::downgrade(&idle);
            idle
        })
    }
}

/// A page until its test ends. The browser of a failed test is not handed on.
struct Taken {
    /// There until the value goes.
    page: Option<Page>,
    idle: Arc<Idle>,
}

impl Deref for Taken {
    type Target = Page;

    fn deref(&self) -> &Page {
        self.page.as_ref().expect("a page until the test ends")
    }
}

impl Drop for Taken {
    fn drop(&mut self) {
        let page = self.page.take().filter(|_| !panicking());
        free(&self.idle).extend(page);
    }
}

fn free<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
