//! A screen that nobody looks at, for a browser that cannot do without one.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

/// An X server of its own, which ends with the value.
pub struct Screen {
    server: Child,
    /// What a program is told by DISPLAY: `:1`.
    pub name: String,
}

impl Screen {
    /// Starts the server with the first number that is free.
    ///
    /// # Panics
    /// When it does not start; the message says what to install.
    pub fn start() -> Self {
        let server = Command::new("Xvfb")
            // It writes the number it took where it is told, here among its words.
            .args(["-displayfd", "1", "-nolisten", "tcp"])
            // Larger than any window here with its frame.
            .args(["-screen", "0", "2000x1600x24"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn();
        let mut server =
            server.unwrap_or_else(|error| panic!("`Xvfb` does not start ({error}): install xvfb"));
        let output = server.stdout.take().expect("the output is piped");
        let mut number = String::new();
        let _ = BufReader::new(output).read_line(&mut number);
        let screen = Self {
            server,
            name: format!(":{}", number.trim()),
        };
        assert!(screen.name.len() > 1, "`Xvfb` has no number free");
        screen
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        // Asked to end it takes its lock and its socket away, which it could not when killed.
        let _ = Command::new("kill")
            .arg(self.server.id().to_string())
            .status();
        let _ = self.server.wait();
    }
}
