//! What the visitor has: the program that draws the page, and the device it runs on.

/// The program that draws the page and prints it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// Chromium by ChromeDriver.
    Chromium,
    /// Firefox by geckodriver. It has no touch screen, and no WebGL where there is no screen.
    Firefox,
    /// WebKitGTK by WebKitWebDriver. It has no touch screen, and its driver cannot print.
    WebKit,
}

/// What the visitor's device is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Device {
    /// Size of the page area in CSS pixels, before any scroll bar.
    pub size: [u32; 2],
    /// Touch screen and phone layout rules instead of a window.
    pub phone: bool,
    /// The visitor prefers dark colours.
    pub dark: bool,
    /// The visitor prefers little movement.
    pub reduced_motion: bool,
    /// WebGL works.
    pub webgl: bool,
    /// What draws the page.
    pub engine: Engine,
}

impl Device {
    /// A window of 1280 × 900 with light colours.
    pub const DESKTOP: Self = Self {
        size: [1280, 900],
        phone: false,
        dark: false,
        reduced_motion: false,
        webgl: true,
        engine: Engine::Chromium,
    };

    /// A phone 390 CSS pixels wide.
    pub const PHONE: Self = Self {
        size: [390, 844],
        phone: true,
        ..Self::DESKTOP
    };

    /// The same device with dark colours.
    #[must_use]
    pub const fn dark(self) -> Self {
        Self { dark: true, ..self }
    }

    /// The same device with little movement.
    #[must_use]
    pub const fn reduced_motion(self) -> Self {
        Self {
            reduced_motion: true,
            ..self
        }
    }

    /// The same device with Firefox on it.
    #[must_use]
    pub const fn in_firefox(self) -> Self {
        Self {
            engine: Engine::Firefox,
            ..self
        }
    }

    /// The same device with WebKit on it.
    #[must_use]
    pub const fn in_webkit(self) -> Self {
        Self {
            engine: Engine::WebKit,
            ..self
        }
    }

    /// The same device without WebGL.
    #[must_use]
    pub const fn without_webgl(self) -> Self {
        Self {
            webgl: false,
            ..self
        }
    }
}
