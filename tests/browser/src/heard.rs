//! What goes wrong in the page, and what it asks of others: heard, or it is said that nobody listens.

use serde_json::Value;

use crate::command::BrowserLog;
use crate::{Engine, Page};

/// Said instead of silence.
const NOBODY_LISTENS: &str = "nobody listens here: only Chromium lets its console be read, and this page is served \
     without the recorder (see `Site::built`); `Site::troubles` has what the server heard";

impl Page {
    /// Everything that went wrong since the page was opened: uncaught errors, `console.error`,
    /// missing files, and in Chromium whatever its console shows as an error.
    ///
    /// # Panics
    /// When nothing could be heard of them, so that silence is never taken for peace: outside
    /// Chromium, on pages without the recorder.
    #[track_caller]
    #[must_use]
    pub fn troubles(&self) -> Vec<String> {
        self.listen()
            .unwrap_or_else(|deafness| panic!("{deafness}"))
    }

    /// The troubles for the message of another failure.
    pub(crate) fn what_is_heard(&self) -> String {
        match self.listen() {
            Ok(troubles) => format!("troubles: {troubles:?}"),
            Err(deafness) => format!(
                "troubles of the server: {:?}, else {deafness}",
                self.site().troubles()
            ),
        }
    }

    fn listen(&self) -> Result<Vec<String>, String> {
        let mut troubles = self.site().troubles();
        if self.browser().engine() == Engine::Chromium {
            let log = self
                .browser()
                .ask(|client| async move { client.issue_cmd(BrowserLog).await })
                .map_err(|error| format!("the console cannot be read: {error}"))?;
            let entries = log.as_array().ok_or("the console is no list")?;
            troubles.extend(
                entries
                    .iter()
                    .map(|entry| format!("console: {}", entry["message"])),
            );
        } else if !self.site().has_recorder() {
            return Err(NOBODY_LISTENS.to_owned());
        }
        Ok(troubles)
    }

    /// Addresses of everything that the page loaded from elsewhere than its own site.
    #[track_caller]
    #[must_use]
    pub fn foreign_requests(&self) -> Vec<String> {
        let loaded = self.run(
            "return performance.getEntriesByType('resource').map(entry => entry.name)",
            Vec::new(),
        );
        let addresses = loaded
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Value::as_str);
        let ours = format!("{}/", self.site().origin());
        addresses
            .filter(|address| !address.starts_with(&ours))
            .map(str::to_owned)
            .collect()
    }
}
