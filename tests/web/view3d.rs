//! The 3D view in a real browser: it draws, it turns, and it says what it shows.

use std::sync::Arc;

use copewright::app::{mount, view3d};
use copewright::cope::{Cope, CutMethod, Solid};
use copewright::joint::{Joint, RoundTube};
use copewright::units::{Angle, Length};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::wasm_bindgen_test;
use web_sys::{
    Element, HtmlCanvasElement, HtmlElement, KeyboardEvent, KeyboardEventInit,
    WebGl2RenderingContext as Gl,
};

fn solid(offset: f64) -> Option<Arc<Solid>> {
    let tube = RoundTube::new(Length::from_mm(42.4), Length::from_mm(2.6)).unwrap();
    let offset = Length::from_mm(offset);
    let joint = Joint::round(tube, Length::from_mm(48.3), Angle::from_deg(60.0), offset).unwrap();
    let cope = Cope::new(&joint, CutMethod::Saw, Length::ZERO).unwrap();
    Some(Arc::new(Solid::new(&cope, Angle::ZERO)))
}

struct Mounted {
    room: HtmlElement,
    solid: RwSignal<Option<Arc<Solid>>>,
    _owner: Owner,
}

impl Drop for Mounted {
    fn drop(&mut self) {
        self.room.remove();
    }
}

fn mounted() -> Mounted {
    let document = document();
    let room: HtmlElement = document.create_element("div").unwrap().unchecked_into();
    room.set_attribute("style", "width: 400px").unwrap();
    document.body().unwrap().append_child(&room).unwrap();
    let shown = RwSignal::new(solid(0.0));
    let owner = mount(&room, move |room| {
        let solid = Memo::new(move |_| shown.get());
        let description = Memo::new(|_| "a branch on a main".to_owned());
        room.child(view3d(solid, description));
    });
    Mounted {
        room,
        solid: shown,
        _owner: owner,
    }
}

impl Mounted {
    fn canvas(&self) -> HtmlCanvasElement {
        let found = self.room.query_selector("canvas").unwrap();
        found.unwrap().unchecked_into()
    }

    fn all(&self, selector: &str) -> Vec<Element> {
        let found = self.room.query_selector_all(selector).unwrap();
        (0..found.length())
            .map(|index| found.item(index).unwrap().unchecked_into())
            .collect()
    }

    fn press(&self, key: &str) {
        let init = KeyboardEventInit::new();
        init.set_key(key);
        init.set_bubbles(true);
        let event = KeyboardEvent::new_with_keyboard_event_init_dict("keydown", &init).unwrap();
        self.canvas().dispatch_event(&event).unwrap();
    }

    /// Counts the pixels that are not paper. Callbacks of one frame run in the order in which they
    /// were asked for, so this sees the picture before the browser takes it away.
    async fn inked(&self) -> usize {
        frame().await;
        let canvas = self.canvas();
        let context = canvas.get_context("webgl2").unwrap().unwrap();
        let gl: Gl = context.unchecked_into();
        assert_eq!(gl.get_error(), Gl::NO_ERROR);
        let (width, height) = (canvas.width(), canvas.height());
        let mut pixels = vec![0; (4 * width * height) as usize];
        gl.read_pixels_with_opt_u8_array(
            0,
            0,
            width as i32,
            height as i32,
            Gl::RGBA,
            Gl::UNSIGNED_BYTE,
            Some(&mut pixels),
        )
        .unwrap();
        let paper = [pixels[0], pixels[1], pixels[2], pixels[3]];
        assert_eq!(paper[3], 255, "nothing was drawn in this frame");
        pixels.chunks(4).filter(|pixel| **pixel != paper).count()
    }

    fn heel(&self) -> String {
        self.all(".view3d-label")[0].get_attribute("style").unwrap()
    }
}

async fn frame() {
    let next = js_sys::Promise::new(&mut |resolve, _| {
        window().request_animation_frame(&resolve).unwrap();
    });
    JsFuture::from(next).await.unwrap();
}

/// Lets effects run, which ask for the frame that draws.
async fn settle() {
    leptos::task::tick().await;
    leptos::task::tick().await;
}

#[wasm_bindgen_test]
async fn it_draws_the_joint_and_redraws_when_it_changes() {
    let page = mounted();
    settle().await;
    let first = page.inked().await;
    assert!(first > 2000, "only {first} pixels are inked");
    let before = page.heel();
    page.solid.set(solid(12.0));
    settle().await;
    let second = page.inked().await;
    assert_ne!((first, before), (second, page.heel()));
    page.solid.set(None);
    settle().await;
    assert_eq!(page.inked().await, 0, "no joint, no ink");
    assert!(page.all(".view3d-missing")[0].has_attribute("hidden"));
}

#[wasm_bindgen_test]
async fn keys_and_buttons_turn_it_and_the_label_says_from_where() {
    let page = mounted();
    settle().await;
    frame().await;
    let label = || page.canvas().get_attribute("aria-label").unwrap();
    assert!(label().contains("a branch on a main"), "{}", label());
    let start = (page.heel(), label());
    for _ in 0..8 {
        page.press("ArrowRight");
    }
    settle().await;
    assert!(page.inked().await > 2000);
    assert_ne!(page.heel(), start.0);
    assert!(label().contains("seen from the side"), "{}", label());
    page.press("Home");
    settle().await;
    frame().await;
    settle().await;
    assert_eq!((page.heel(), label()), start);
    let into: HtmlElement = page
        .all("button")
        .into_iter()
        .find(|button| button.text_content().as_deref() == Some("Into the cut"))
        .unwrap()
        .unchecked_into();
    into.click();
    settle().await;
    assert!(label().contains("from below"), "{}", label());
    assert!(label().contains("outline"), "{}", label());
}
