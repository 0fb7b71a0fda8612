//! The one picture: its state, and drawing it once when something has changed.

use std::sync::Arc;

use leptos::leptos_dom::helpers::{
    AnimationFrameRequestHandle, request_animation_frame_with_handle,
};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{HtmlCanvasElement, WebGl2RenderingContext, WebGlContextAttributes, window};

use crate::app::dom::follow;
use crate::app::view3d::camera::{Camera, View};
use crate::app::view3d::controls::{Fingers, Preset};
use crate::app::view3d::ink::Inks;
use crate::app::view3d::scene::{Frame, MainStyle, Scene};
use crate::app::view3d::watch::Watch;
use crate::cope::{Landmark, Solid};

/// The words on the picture.
pub const WORDS: [&str; 3] = ["heel", "toe", "zero line"];

/// Where a word stands, in CSS pixels from the picture's upper left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Label {
    pub x: f64,
    pub y: f64,
    /// Whether what it names is on the far side.
    pub behind: bool,
}

/// What belongs to the one canvas and outlives a frame.
struct Desk {
    canvas: HtmlCanvasElement,
    scene: Option<Scene>,
    /// The joint the scene holds.
    shown: Option<Arc<Solid>>,
    /// Whether the browser has taken the context away for now.
    lost: bool,
    frame: Option<AnimationFrameRequestHandle>,
    fingers: Fingers,
    watch: Option<Watch>,
}

/// Everything the picture depends on. A handle: copies share one picture.
#[derive(Clone, Copy)]
pub struct Picture {
    pub camera: RwSignal<Camera>,
    pub main: RwSignal<MainStyle>,
    /// Whether the browser can draw it at all.
    pub able: RwSignal<bool>,
    pub labels: RwSignal<[Option<Label>; 3]>,
    solid: Memo<Option<Arc<Solid>>>,
    desk: StoredValue<Desk, LocalStorage>,
}

impl Picture {
    /// A picture of a joint, seen as in a preset, redrawn when joint or camera change.
    pub fn new(canvas: HtmlCanvasElement, solid: Memo<Option<Arc<Solid>>>, start: &Preset) -> Self {
        let desk = Desk {
            canvas,
            scene: None,
            shown: None,
            lost: false,
            frame: None,
            fingers: Fingers::default(),
            watch: None,
        };
        let picture = Self {
            camera: RwSignal::new(start.camera),
            main: RwSignal::new(start.main),
            able: RwSignal::new(true),
            labels: RwSignal::new([None; 3]),
            solid,
            desk: StoredValue::new_local(desk),
        };
        follow(move || {
            picture.solid.track();
            picture.camera.track();
            picture.main.track();
            picture.attend();
            picture.redraw();
        });
        on_cleanup(move || {
            picture.desk.try_update_value(|desk| {
                if let Some(frame) = desk.frame.take() {
                    frame.cancel();
                }
            });
        });
        picture
    }

    /// Asks for one drawing in the browser's next frame.
    pub fn redraw(self) {
        self.desk.try_update_value(|desk| {
            if desk.frame.is_none() {
                desk.frame = request_animation_frame_with_handle(move || self.draw()).ok();
            }
        });
    }

    /// The browser has taken the context away.
    pub fn lose(self) {
        self.desk.try_update_value(|desk| {
            desk.lost = true;
            desk.scene = None;
            desk.shown = None;
        });
    }

    /// The browser has given the context back, empty.
    pub fn regain(self) {
        self.desk.try_update_value(|desk| desk.lost = false);
        self.redraw();
    }

    /// Lets the fingers on the picture move the camera.
    pub fn fingers(self, moved: impl FnOnce(&mut Fingers, Camera) -> Option<Camera>) {
        let camera = self.camera.get_untracked();
        let next = self
            .desk
            .try_update_value(|desk| moved(&mut desk.fingers, camera));
        if let Some(next) = next.flatten() {
            self.camera.set(next);
        }
    }

    fn attend(self) {
        self.desk.try_update_value(|desk| {
            if desk.watch.is_none() {
                desk.watch = Some(Watch::start(&desk.canvas, move || self.redraw()));
            }
        });
    }

    fn draw(self) {
        let able = self.desk.try_update_value(|desk| {
            desk.frame = None;
            desk.lost || self.draw_on(desk)
        });
        if able == Some(false) {
            self.able.set(false);
        }
    }

    /// Draws; says whether the browser can.
    fn draw_on(self, desk: &mut Desk) -> bool {
        let canvas = &desk.canvas;
        if desk.scene.is_none() {
            desk.scene = context(canvas).and_then(Scene::new);
        }
        let Some(scene) = &mut desk.scene else {
            // A context that is lost while it is set up will be given back.
            return desk.lost;
        };
        let solid = self.solid.get_untracked();
        let known = match (&desk.shown, &solid) {
            (Some(old), Some(new)) => Arc::ptr_eq(old, new),
            (None, None) => true,
            _ => false,
        };
        if !known {
            scene.load(solid.as_deref());
            desk.shown.clone_from(&solid);
        }
        let density = window().map_or(1.0, |window| window.device_pixel_ratio());
        let css = (
            f64::from(canvas.client_width()),
            f64::from(canvas.client_height()),
        );
        let size = ((css.0 * density).round(), (css.1 * density).round());
        if size.0 < 1.0 || size.1 < 1.0 {
            return true;
        }
        // Setting the size clears the picture, even if it stays the same.
        if (canvas.width(), canvas.height()) != (size.0 as u32, size.1 as u32) {
            canvas.set_width(size.0 as u32);
            canvas.set_height(size.1 as u32);
        }
        let camera = self.camera.get_untracked();
        let (centre, radius) = solid.as_ref().map_or(([0.0; 3], 1.0), |solid| {
            (solid.bounds.centre, solid.bounds.radius)
        });
        scene.draw(&Frame {
            view: camera.view(centre, radius, size),
            size,
            density,
            inks: Inks::of(canvas),
            main: self.main.get_untracked(),
        });
        let view = camera.view(centre, radius, css);
        let marks = solid
            .as_ref()
            .map(|solid| [solid.heel, solid.toe, solid.zero]);
        self.labels.set(marks.map_or([None; 3], |marks| {
            [0, 1, 2].map(|mark| label(&view, &marks[mark], WORDS[mark], mark < 2))
        }));
        true
    }
}

fn context(canvas: &HtmlCanvasElement) -> Option<WebGl2RenderingContext> {
    let wishes = WebGlContextAttributes::new();
    wishes.set_antialias(true);
    wishes.set_alpha(false);
    canvas
        .get_context_with_context_options("webgl2", &wishes)
        .ok()
        .flatten()?
        .dyn_into()
        .ok()
}

/// Puts a word beside its place, away from the tube. A word at the cut goes below it in front and
/// above it behind; one on the body stays beside it. What is straight behind the tube goes without.
fn label(view: &View, mark: &Landmark, word: &str, at_cut: bool) -> Option<Label> {
    const CLEAR: f64 = 14.0;
    /// About half a character, and half a line, in CSS pixels.
    const HALF: (f64, f64) = (4.2, 10.0);
    let (x, y) = view.project(mark.point);
    let facing = view.facing(mark.outward);
    if facing < -0.85 {
        return None;
    }
    let (right, down) = view.direction(mark.outward);
    let (right, down) = if at_cut {
        let down = down + 0.7 * facing;
        let length = right.hypot(down).max(0.2);
        (right / length, down / length)
    } else {
        (1.0_f64.copysign(right), 0.0)
    };
    Some(Label {
        x: x + right * (CLEAR + HALF.0 * word.len() as f64),
        y: y + down * (CLEAR + HALF.1),
        behind: facing < -0.1,
    })
}
