//! Fingers, mouse and keys turned into moves of the camera.

use crate::app::view3d::camera::Camera;
use crate::app::view3d::scene::MainStyle;
use crate::units::limited;

/// Turn for each CSS pixel dragged, radians: half a turn across a phone.
const PER_PIXEL: f64 = 0.0085;
/// Turn for each press of an arrow key, radians.
const PER_PRESS: f64 = std::f64::consts::PI / 24.0;
/// Magnification of one press of a key or button.
pub const CLOSER: f64 = 1.25;

/// A view worth a button: its words, its camera, and how the main is drawn in it.
pub struct Preset {
    pub words: &'static str,
    pub camera: Camera,
    pub main: MainStyle,
}

/// The views on offer; the first is what the page starts with.
pub const PRESETS: [Preset; 4] = [
    Preset {
        words: "Whole joint",
        camera: Camera::from_degrees(-38.0, 24.0),
        main: MainStyle::Solid,
    },
    Preset {
        words: "From the heel",
        camera: Camera::from_degrees(0.0, 12.0),
        // Of a slanted main the near end would stand before the heel.
        main: MainStyle::Outline,
    },
    Preset {
        words: "From the side",
        camera: Camera::from_degrees(-90.0, 8.0),
        main: MainStyle::Solid,
    },
    Preset {
        words: "Into the cut",
        camera: Camera::from_degrees(-55.0, -42.0),
        main: MainStyle::Outline,
    },
];

/// The camera after a key, if the key is one of ours.
pub fn press(camera: Camera, key: &str) -> Option<Camera> {
    Some(match key {
        "ArrowLeft" => camera.drag(-PER_PRESS, 0.0),
        "ArrowRight" => camera.drag(PER_PRESS, 0.0),
        "ArrowUp" => camera.drag(0.0, PER_PRESS),
        "ArrowDown" => camera.drag(0.0, -PER_PRESS),
        "+" | "=" => camera.magnify(CLOSER),
        "-" | "_" => camera.magnify(1.0 / CLOSER),
        "Home" => PRESETS[0].camera,
        _ => return None,
    })
}

/// The camera after so many pixels of wheel; a notch is about a hundred.
pub fn wheel(camera: Camera, down: f64) -> Camera {
    camera.magnify(limited(-down / 300.0, -1.0, 1.0).exp())
}

/// The fingers (or the mouse) on the picture: one turns, two turn and magnify.
#[derive(Debug, Default)]
pub struct Fingers {
    down: Vec<(i32, (f64, f64))>,
}

impl Fingers {
    /// A finger goes down.
    pub fn press(&mut self, id: i32, at: (f64, f64)) {
        self.lift(id);
        self.down.push((id, at));
    }

    /// A finger goes up, or the browser takes it to scroll the page.
    pub fn lift(&mut self, id: i32) {
        self.down.retain(|(known, _)| *known != id);
    }

    /// A finger moves; the camera it leads to, if it is down.
    pub fn slide(&mut self, id: i32, at: (f64, f64), camera: Camera) -> Option<Camera> {
        let before = self.spread();
        let count = self.down.len() as f64;
        let place = &mut self.down.iter_mut().find(|(known, _)| *known == id)?.1;
        let (right, down) = (at.0 - place.0, at.1 - place.1);
        *place = at;
        let turned = camera.drag(right * PER_PIXEL / count, -down * PER_PIXEL / count);
        Some(match (before, self.spread()) {
            (Some(before), Some(after)) => turned.magnify(after / before),
            _ => turned,
        })
    }

    /// Distance between the first two fingers.
    fn spread(&self) -> Option<f64> {
        let [(_, a), (_, b), ..] = self.down.as_slice() else {
            return None;
        };
        Some((a.0 - b.0).hypot(a.1 - b.1))
    }
}
