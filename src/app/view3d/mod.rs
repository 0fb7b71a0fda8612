//! The joint in three dimensions, drawn in ink: turned by mouse, finger and keys.
//!
//! A picture is drawn only when something has changed, once in the next frame of the browser.

mod camera;
mod controls;
mod ink;
mod picture;
mod scene;
mod shader;
mod watch;

use std::sync::Arc;

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlCanvasElement, KeyboardEvent, PointerEvent, TouchEvent, WheelEvent};

use crate::app::dom::{El, html};
use crate::app::view3d::controls::{CLOSER, PRESETS, Preset, press, wheel};
use crate::app::view3d::picture::{Picture, WORDS};
use crate::app::view3d::scene::MainStyle;
use crate::cope::Solid;
use crate::units::write_fixed;

/// The 3D view with its controls.
///
/// `solid` is the joint to show; `None` shows empty paper. `description` is the joint in a few
/// words, for people who do not see the picture, such as
/// `branch 42.4 mm on main 48.3 mm at 60°`.
pub fn view3d(solid: Memo<Option<Arc<Solid>>>, description: Memo<String>) -> El {
    let canvas =
        html(r#"<canvas role="img" tabindex="0" aria-describedby="view3d-help"></canvas>"#);
    let drawn_on: HtmlCanvasElement = canvas.element().clone().unchecked_into();
    let picture = Picture::new(drawn_on.clone(), solid, &PRESETS[0]);
    let unable = move || !picture.able.get();
    html(r#"<figure class="view3d"></figure>"#)
    .child(
        html(
            r#"<p class="view3d-missing">This browser cannot show the 3D view (no WebGL2). Everything else works.</p>"#,
        )
        .flag_of("hidden", move || picture.able.get()),
    )
    .child(
        html("<div></div>")
            .flag_of("hidden", unable)
            .child(
                html(r#"<div class="view3d-stage"></div>"#)
                    .child(stage(canvas, drawn_on, picture, description))
                    .child(labels(picture)),
            )
            .child(controls(picture)),
    )
    .child(
        html(concat!(
            r#"<figcaption id="view3d-help">Drag sideways to turn it, then any way. Two fingers, or Ctrl and "#,
            "the wheel, bring it closer. Keys: the arrows turn it, + and − bring it closer and further, ",
            "Home shows the whole joint.</figcaption>",
        ))
        .flag_of("hidden", unable),
    )
}

/// The canvas and what moves it.
fn stage(
    canvas: El,
    drawn_on: HtmlCanvasElement,
    picture: Picture,
    description: Memo<String>,
) -> El {
    let place = |event: &PointerEvent| (f64::from(event.client_x()), f64::from(event.client_y()));
    let down = move |event: PointerEvent| {
        if event.button() != 0 {
            return;
        }
        // Refused only for a finger that is already gone.
        let _ = drawn_on.set_pointer_capture(event.pointer_id());
        picture.fingers(|fingers, _| {
            fingers.press(event.pointer_id(), place(&event));
            None
        });
    };
    let slide = move |event: &PointerEvent| {
        picture.fingers(|fingers, camera| fingers.slide(event.pointer_id(), place(event), camera));
    };
    let lift = move |event: &PointerEvent| {
        picture.fingers(|fingers, _| {
            fingers.lift(event.pointer_id());
            None
        });
    };
    // One finger up or down scrolls the page past the picture; two are always for the picture.
    let touch = |event: &TouchEvent| {
        if event.touches().length() > 1 {
            event.prevent_default();
        }
    };
    // The bare wheel scrolls the page; browsers report a pinch on a touchpad as Ctrl and wheel.
    let roll = move |event: &WheelEvent| {
        if event.ctrl_key() {
            event.prevent_default();
            picture
                .camera
                .update(|camera| *camera = wheel(*camera, event.delta_y()));
        }
    };
    let key = move |event: &KeyboardEvent| {
        if event.ctrl_key() || event.meta_key() || event.alt_key() {
            return;
        }
        if let Some(camera) = press(picture.camera.get_untracked(), &event.key()) {
            event.prevent_default();
            if event.key() == "Home" {
                picture.main.set(PRESETS[0].main);
            }
            picture.camera.set(camera);
        }
    };
    let lose = move |event: Event| {
        // Without this the browser never gives it back.
        event.prevent_default();
        picture.lose();
    };
    let words = move || {
        let main = match picture.main.get() {
            MainStyle::Solid => "",
            MainStyle::Outline => " The main is drawn as an outline.",
        };
        format!(
            "3D drawing: {}, seen {}.{main}",
            description.get(),
            picture.camera.get().words()
        )
    };
    canvas
        .attr_of("aria-label", move || Some(words()))
        .on("pointerdown", move |event| down(event.unchecked_into()))
        .on("pointermove", move |event| slide(&event.unchecked_into()))
        .on("pointerup", move |event| lift(&event.unchecked_into()))
        .on("pointercancel", move |event| lift(&event.unchecked_into()))
        .on("touchstart", move |event| touch(&event.unchecked_into()))
        .on("wheel", move |event| roll(&event.unchecked_into()))
        .on("keydown", move |event| key(&event.unchecked_into()))
        .on("webglcontextlost", lose)
        .on("webglcontextrestored", move |_| picture.regain())
}

/// The words on the picture; the description says the same to those who do not see it.
fn labels(picture: Picture) -> El {
    let label = move |mark: usize| {
        let place = move || {
            Some(picture.labels.get()[mark].map_or_else(
                || "display: none".to_owned(),
                |label| {
                    let opacity = if label.behind { "0.45" } else { "1" };
                    let (left, top) = (write_fixed(label.x, 1), write_fixed(label.y, 1));
                    format!("left: {left}px; top: {top}px; opacity: {opacity}")
                },
            ))
        };
        html(r#"<span class="view3d-label"></span>"#)
            .text(WORDS[mark])
            .style_of(place)
    };
    html(r#"<div aria-hidden="true"></div>"#).children((0..WORDS.len()).map(label))
}

/// Views and magnification by button, for gloves and for those who do not drag.
fn controls(picture: Picture) -> El {
    let button = |words: &str| html(r#"<button type="button"></button>"#).text(words);
    let preset = |preset: &'static Preset| {
        button(preset.words).on_click(move || {
            picture.main.set(preset.main);
            picture.camera.set(preset.camera);
        })
    };
    let magnify = |(by, words): (f64, &str)| {
        button(words).on_click(move || picture.camera.update(|camera| *camera = camera.magnify(by)))
    };
    let solid = html(r#"<input type="checkbox">"#)
        .checked_of(move || picture.main.get() == MainStyle::Solid)
        .on("change", move |event| {
            picture.main.set(if event_target_checked(&event) {
                MainStyle::Solid
            } else {
                MainStyle::Outline
            });
        });
    html(r#"<div class="view3d-controls" role="group" aria-label="3D view"></div>"#)
        .children(PRESETS.iter().map(preset))
        .children([(CLOSER, "Closer"), (1.0 / CLOSER, "Further")].map(magnify))
        .child(
            html("<label></label>")
                .child(solid)
                .text("Main drawn solid"),
        )
}
