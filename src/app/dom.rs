//! Elements of the page. What never changes is markup; what changes is kept in step by effects.
//!
//! Closures are boxed at the door, so that the page holds each of these functions once. Leptos'
//! own views are types that nest, compiled anew for every element; they weighed 44 KB more (brotli) for the same page.

use std::cell::RefCell;

use leptos::prelude::*;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue, UnwrapThrowExt};
use web_sys::{Element, Event, HtmlElement, HtmlTemplateElement, Node};

/// Acts now, and again whenever a signal that it reads has changed, as long as its owner lives.
/// What it makes belongs to it and goes with its next run.
pub fn follow(act: impl Fn() + 'static) {
    fn boxed(act: Box<dyn Fn()>) {
        let effect = RenderEffect::new(move |_: Option<()>| act());
        StoredValue::new_local(effect);
    }
    boxed(Box::new(act));
}

/// A memo of yes or no, for what must not be made anew as long as the answer stays.
pub fn whether(is: impl Fn() -> bool + Send + Sync + 'static) -> Memo<bool> {
    fn boxed(is: Box<dyn Fn() -> bool + Send + Sync>) -> Memo<bool> {
        Memo::new(move |_| is())
    }
    boxed(Box::new(is))
}

/// Builds on the page until the owner that comes back is dropped.
#[must_use = "what is built stays in step only as long as its owner lives"]
pub fn mount(room: &Element, build: impl FnOnce(El)) -> Owner {
    // Refused when it is there already.
    let _ = any_spawner::Executor::init_wasm_bindgen();
    let owner = Owner::new();
    owner.with(|| build(El(room.clone())));
    owner
}

/// An element; clones are the same one.
#[derive(Clone)]
pub struct El(Element);

/// The element that a piece of markup describes. For markup written here alone: what a user typed
/// goes in by [`El::text`] and its like, which take it for text.
pub fn html(markup: &'static str) -> El {
    let template: HtmlTemplateElement = new_element("template").unchecked_into();
    template.set_inner_html(markup);
    // Markup of ours describes an element.
    El(template.content().first_element_child().unwrap_throw())
}

fn new_element(tag: &str) -> Element {
    // Refused only for a tag that is no name.
    document().create_element(tag).unwrap_throw()
}

impl El {
    /// The element itself.
    pub const fn element(&self) -> &Element {
        &self.0
    }

    /// With an attribute.
    pub fn attr(self, name: &str, value: &str) -> Self {
        set_attribute(&self.0, name, Some(value));
        self
    }

    /// With a text after what it holds.
    pub fn text(self, text: &str) -> Self {
        append(&self.0, &document().create_text_node(text));
        self
    }

    /// With an element after what it holds.
    pub fn child(self, child: El) -> Self {
        append(&self.0, &child.0);
        self
    }

    /// With elements after what it holds.
    pub fn children(self, children: impl IntoIterator<Item = El>) -> Self {
        for child in children {
            append(&self.0, &child.0);
        }
        self
    }

    /// With an attribute that is there when there is a value for it.
    pub fn attr_of(self, name: &'static str, value: impl Fn() -> Option<String> + 'static) -> Self {
        fn boxed(element: Element, name: &'static str, value: Box<dyn Fn() -> Option<String>>) {
            let there = RefCell::new(None);
            follow(move || {
                let value = Some(value());
                if *there.borrow() != value {
                    set_attribute(&element, name, value.as_ref().and_then(Option::as_deref));
                    there.replace(value);
                }
            });
        }
        boxed(self.0.clone(), name, Box::new(value));
        self
    }

    /// With a style of its own that changes. The page's content security policy refuses the
    /// attribute `style`.
    pub fn style_of(self, style: impl Fn() -> Option<String> + 'static) -> Self {
        let element: HtmlElement = self.0.clone().unchecked_into();
        follow(move || {
            let style = style().unwrap_or_default();
            element.style().set_css_text(&style);
        });
        self
    }

    /// With an attribute of no value that is there or not, such as `hidden`.
    pub fn flag_of(self, name: &'static str, is: impl Fn() -> bool + 'static) -> Self {
        self.attr_of(name, move || is().then(String::new))
    }

    /// With an attribute that says `true` or `false`.
    pub fn truth_of(self, name: &'static str, is: impl Fn() -> bool + 'static) -> Self {
        self.attr_of(name, move || {
            Some(String::from(if is() { "true" } else { "false" }))
        })
    }

    /// With a class that it has or not.
    pub fn class_of(self, name: &'static str, is: impl Fn() -> bool + 'static) -> Self {
        fn boxed(element: Element, name: &'static str, is: Box<dyn Fn() -> bool>) {
            follow(move || {
                // Refused only for a name with blanks.
                let _ = element.class_list().toggle_with_force(name, is());
            });
        }
        boxed(self.0.clone(), name, Box::new(is));
        self
    }

    /// With what a field holds, or which option is chosen: put after the options.
    pub fn value_of(self, value: impl Fn() -> String + 'static) -> Self {
        self.property_of("value", Box::new(move || JsValue::from_str(&value())))
    }

    /// With a box or button that is checked or not.
    pub fn checked_of(self, is: impl Fn() -> bool + 'static) -> Self {
        self.property_of("checked", Box::new(move || JsValue::from_bool(is())))
    }

    /// With markup for all that it holds, made by [`crate::write`], which escapes what was typed.
    pub fn markup_of(self, markup: impl Fn() -> String + 'static) -> Self {
        fn boxed(element: Element, markup: Box<dyn Fn() -> String>) {
            let there = RefCell::new(String::new());
            follow(move || {
                let markup = markup();
                if *there.borrow() != markup {
                    element.set_inner_html(&markup);
                    there.replace(markup);
                }
            });
        }
        boxed(self.0.clone(), Box::new(markup));
        self
    }

    fn property_of(self, name: &'static str, value: Box<dyn Fn() -> JsValue>) -> Self {
        let element = self.0.clone();
        follow(move || {
            let (name, value) = (JsValue::from_str(name), value());
            // What a person has typed or ticked stands there already, and set again it would be
            // laid out again. Every property named above can be set on its elements.
            if js_sys::Reflect::get(&element, &name).as_ref() != Ok(&value) {
                let _ = js_sys::Reflect::set(&element, &name, &value);
            }
        });
        self
    }

    /// With a text that changes, after what it holds.
    pub fn text_of<T: Into<String>>(self, text: impl Fn() -> T + 'static) -> Self {
        fn boxed(element: &Element, text: Box<dyn Fn() -> String>) {
            let node = document().create_text_node("");
            append(element, &node);
            let there = RefCell::new(String::new());
            follow(move || {
                let text = text();
                // What is set again is laid out again, although nothing has changed.
                if *there.borrow() != text {
                    node.set_data(&text);
                    there.replace(text);
                }
            });
        }
        boxed(&self.0, Box::new(move || text().into()));
        self
    }

    /// With an element that is there or not. It is made anew each time it comes.
    pub fn when(
        self,
        is: impl Fn() -> bool + Send + Sync + 'static,
        make: impl Fn() -> El + 'static,
    ) -> Self {
        let is = whether(is);
        self.children_of(move || is.get().then(&make).into_iter().collect())
    }

    /// With elements that are all made anew at every change, after what it holds.
    pub fn children_of(self, make: impl Fn() -> Vec<El> + 'static) -> Self {
        fn boxed(parent: Element, make: Box<dyn Fn() -> Vec<El>>) {
            let end = end_mark(&parent);
            let there = RefCell::new(Vec::<El>::new());
            follow(move || {
                let next = make();
                for old in there.replace(next.clone()) {
                    old.0.remove();
                }
                for new in next {
                    insert(&parent, &new.0, &end);
                }
            });
        }
        boxed(self.0.clone(), Box::new(make));
        self
    }

    /// With an element of the same markup for each row of texts, after what it holds. Only an
    /// element whose row has changed is filled again, so that a screen reader reads no other.
    pub fn rows_of(
        self,
        markup: &'static str,
        fill: fn(&Element, &[String]),
        rows: impl Fn() -> Vec<Vec<String>> + 'static,
    ) -> Self {
        fn boxed(
            parent: Element,
            markup: &'static str,
            fill: fn(&Element, &[String]),
            rows: Box<dyn Fn() -> Vec<Vec<String>>>,
        ) {
            let end = end_mark(&parent);
            let there = RefCell::new(Vec::<(Element, Vec<String>)>::new());
            follow(move || {
                let rows = rows();
                let mut there = there.borrow_mut();
                while there.len() > rows.len() {
                    if let Some((old, _)) = there.pop() {
                        old.remove();
                    }
                }
                for (index, row) in rows.into_iter().enumerate() {
                    match there.get_mut(index) {
                        Some((_, old)) if *old == row => {}
                        Some((element, old)) => {
                            fill(element, &row);
                            *old = row;
                        }
                        None => {
                            let element = html(markup).0;
                            fill(&element, &row);
                            insert(&parent, &element, &end);
                            there.push((element, row));
                        }
                    }
                }
            });
        }
        boxed(self.0.clone(), markup, fill, Box::new(rows));
        self
    }

    /// With an element for each key, which stays as long as its key does, after what it holds.
    pub fn keyed_of<K: Copy + PartialEq + 'static>(
        self,
        keys: impl Fn() -> Vec<K> + 'static,
        make: impl Fn(K) -> El + 'static,
    ) -> Self {
        let end = end_mark(&self.0);
        let parent = self.0.clone();
        // What is made for a key outlives the run that made it.
        let lasting = Owner::current().unwrap_or_default();
        let there = RefCell::new(Vec::<(K, Owner, El)>::new());
        follow(move || {
            let keys = keys();
            let mut there = there.borrow_mut();
            there.retain(|(key, owner, element)| {
                let stays = keys.contains(key);
                if !stays {
                    owner.cleanup();
                    element.0.remove();
                }
                stays
            });
            for (index, key) in keys.into_iter().enumerate() {
                match there.iter().position(|(known, _, _)| *known == key) {
                    Some(at) if at == index => continue,
                    Some(at) => {
                        let moved = there.remove(at);
                        there.insert(index, moved);
                    }
                    None => {
                        let owner = lasting.child();
                        let element = owner.with(|| untrack(|| make(key)));
                        there.insert(index, (key, owner, element));
                    }
                }
                let next = there
                    .get(index + 1)
                    .map(|(_, _, next)| Node::from(next.0.clone()));
                insert(&parent, &there[index].2.0, next.as_ref().unwrap_or(&end));
            }
        });
        self
    }

    /// Calls back at an event.
    pub fn on(self, event: &str, act: impl Fn(Event) + 'static) -> Self {
        fn boxed(element: &Element, event: &str, act: Box<dyn Fn(Event)>) {
            // The browser's own collector drops it with the element.
            let act = Closure::<dyn Fn(Event)>::wrap(act).into_js_value();
            // Every element takes listeners.
            let _ = element.add_event_listener_with_callback(event, act.unchecked_ref());
        }
        boxed(&self.0, event, Box::new(act));
        self
    }

    /// Calls back when it is clicked.
    pub fn on_click(self, act: impl Fn() + 'static) -> Self {
        self.on("click", move |_| act())
    }

    /// Calls back with what a field holds, at an event.
    pub fn on_text(self, event: &str, act: impl Fn(String) + 'static) -> Self {
        self.on(event, move |event| act(event_target_value(&event)))
    }
}

/// Puts what the page says about itself, which is there before the program, after all that the
/// program has put there. Its frame loads nothing before it is opened: browsers load one that is
/// only hidden, however lazy they are told to be.
pub fn about_last(body: &El) {
    let found = |what| document().query_selector(what).ok().flatten();
    if let (Some(about), Some(details)) = (found("#about"), found("#about details")) {
        append(&body.0, &about);
        El(details).on("toggle", move |_| {
            let frame = about.query_selector("iframe:not([src])").ok().flatten();
            if let Some(frame) = frame {
                let source = frame.get_attribute("data-src");
                set_attribute(&frame, "src", source.as_deref());
            }
        });
    }
}

/// Fills an element with one text.
pub fn fill_text(element: &Element, texts: &[String]) {
    element.set_text_content(texts.first().map(String::as_str));
}

/// Fills the elements inside an element with a text each; with fewer texts, the last of them.
pub fn fill_cells(element: &Element, texts: &[String]) {
    let cells = element.children();
    let first = cells.length().saturating_sub(texts.len() as u32);
    for (index, text) in (first..).zip(texts) {
        if let Some(cell) = cells.item(index) {
            cell.set_text_content(Some(text));
        }
    }
}

/// The options of a choice: code, and what is shown.
pub fn options<'a>(all: impl IntoIterator<Item = (&'a str, &'a str)>) -> Vec<El> {
    let option = |(code, shown)| html("<option></option>").attr("value", code).text(shown);
    all.into_iter().map(option).collect()
}

fn set_attribute(element: &Element, name: &str, value: Option<&str>) {
    // Refused only for a name that is none.
    let _ = match value {
        Some(value) => element.set_attribute(name, value),
        None => element.remove_attribute(name),
    };
}

fn append(parent: &Element, child: &Node) {
    // Refused only where a tree would hold itself.
    let _ = parent.append_child(child);
}

fn insert(parent: &Element, child: &Node, before: &Node) {
    // As above; the mark stays as long as its parent.
    let _ = parent.insert_before(child, Some(before));
}

/// An empty text after what the parent holds: what changes goes before it.
fn end_mark(parent: &Element) -> Node {
    let mark = document().create_text_node("");
    append(parent, &mark);
    mark.into()
}
