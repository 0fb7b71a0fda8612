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

use leptos::ev::{Event, KeyboardEvent, PointerEvent, TouchEvent, WheelEvent};
use leptos::prelude::*;

use crate::app::view3d::controls::{CLOSER, PRESETS, Preset, press, wheel};
use crate::app::view3d::picture::{Picture, WORDS};
use crate::app::view3d::scene::MainStyle;
use crate::cope::Solid;
use crate::units::write_fixed;

/// The 3D view with its controls.
#[component]
pub fn View3d(
    /// The joint to show; `None` shows empty paper.
    #[prop(into)]
    solid: Signal<Option<Arc<Solid>>>,
    /// The joint in a few words, for people who do not see the picture, such as
    /// `branch 42.4 mm on main 48.3 mm at 60°`.
    #[prop(into)]
    description: Signal<String>,
) -> impl IntoView {
    let picture = Picture::new(solid, &PRESETS[0]);
    view! {
        <figure class="view3d">
            <p class="view3d-missing" hidden=move || picture.able.get()>
                "This browser cannot show the 3D view (no WebGL2). Everything else works."
            </p>
            <div hidden=move || !picture.able.get()>
                <div class="view3d-stage">
                    <Stage picture description/>
                    <Labels picture/>
                </div>
                <Controls picture/>
            </div>
            <figcaption id="view3d-help" hidden=move || !picture.able.get()>
                "Drag sideways to turn it, then any way. Two fingers, or Ctrl and the wheel, bring \
                 it closer. Keys: the arrows turn it, + and − bring it closer and further, Home \
                 shows the whole joint."
            </figcaption>
        </figure>
    }
}

/// The canvas and what moves it.
#[component]
fn Stage(picture: Picture, description: Signal<String>) -> impl IntoView {
    let place = |event: &PointerEvent| (f64::from(event.client_x()), f64::from(event.client_y()));
    let down = move |event: PointerEvent| {
        if event.button() != 0 {
            return;
        }
        if let Some(canvas) = picture.canvas.get_untracked() {
            // Refused only for a finger that is already gone.
            let _ = canvas.set_pointer_capture(event.pointer_id());
        }
        picture.fingers(|fingers, _| {
            fingers.press(event.pointer_id(), place(&event));
            None
        });
    };
    let slide = move |event: PointerEvent| {
        picture.fingers(|fingers, camera| fingers.slide(event.pointer_id(), place(&event), camera));
    };
    let lift = move |event: PointerEvent| {
        picture.fingers(|fingers, _| {
            fingers.lift(event.pointer_id());
            None
        });
    };
    // One finger up or down scrolls the page past the picture; two are always for the picture.
    let touch = |event: TouchEvent| {
        if event.touches().length() > 1 {
            event.prevent_default();
        }
    };
    // The bare wheel scrolls the page; browsers report a pinch on a touchpad as Ctrl and wheel.
    let roll = move |event: WheelEvent| {
        if event.ctrl_key() {
            event.prevent_default();
            picture
                .camera
                .update(|camera| *camera = wheel(*camera, event.delta_y()));
        }
    };
    let key = move |event: KeyboardEvent| {
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
    view! {
        <canvas
            node_ref=picture.canvas
            role="img"
            tabindex="0"
            aria-label=words
            aria-describedby="view3d-help"
            on:pointerdown=down
            on:pointermove=slide
            on:pointerup=lift
            on:pointercancel=lift
            on:touchstart=touch
            on:wheel=roll
            on:keydown=key
            on:webglcontextlost=lose
            on:webglcontextrestored=move |_: Event| picture.regain()
        ></canvas>
    }
}

/// The words on the picture; the description says the same to those who do not see it.
#[component]
fn Labels(picture: Picture) -> impl IntoView {
    let label = move |mark: usize| {
        let place = move || {
            picture.labels.get()[mark].map_or_else(
                || "display: none".to_owned(),
                |label| {
                    let opacity = if label.behind { "0.45" } else { "1" };
                    let (left, top) = (write_fixed(label.x, 1), write_fixed(label.y, 1));
                    format!("left: {left}px; top: {top}px; opacity: {opacity}")
                },
            )
        };
        view! { <span class="view3d-label" style=place>{WORDS[mark]}</span> }
    };
    view! { <div aria-hidden="true">{label(0)} {label(1)} {label(2)}</div> }
}

/// Views and magnification by button, for gloves and for those who do not drag.
#[component]
fn Controls(picture: Picture) -> impl IntoView {
    let preset = move |preset: &'static Preset| {
        let show = move |_| {
            picture.main.set(preset.main);
            picture.camera.set(preset.camera);
        };
        view! { <button type="button" on:click=show>{preset.words}</button> }
    };
    let magnify = move |by: f64, words: &'static str| {
        let magnify = move |_| picture.camera.update(|camera| *camera = camera.magnify(by));
        view! { <button type="button" on:click=magnify>{words}</button> }
    };
    let solid = move |event| {
        picture.main.set(if event_target_checked(&event) {
            MainStyle::Solid
        } else {
            MainStyle::Outline
        });
    };
    view! {
        <div class="view3d-controls" role="group" aria-label="3D view">
            {PRESETS.iter().map(preset).collect_view()}
            {magnify(CLOSER, "Closer")}
            {magnify(1.0 / CLOSER, "Further")}
            <label>
                <input
                    type="checkbox"
                    prop:checked=move || picture.main.get() == MainStyle::Solid
                    on:change=solid
                />
                "Main drawn solid"
            </label>
        </div>
    }
}
