//! Everyone can use it: screen reader, keyboard alone, phone, dark colours, little movement, no
//! graphics processor.
#![allow(clippy::panic, clippy::unwrap_used, reason = "tests fail by panicking")]

use browser_tests::printed::Sheet;
use browser_tests::{Device, Key, Page, SharedPage, Violation};
use serde_json::json;

const WIDE: Device = Device {
    size: [1400, 900],
    ..Device::DESKTOP
};

static DESKTOP: SharedPage = SharedPage::new(WIDE);
static PHONE: SharedPage = SharedPage::new(Device::PHONE);

/// A joint with a caution, cut and printed in every unusual way.
const BUSY: &str = "v=1&unit=in/16&branch=1+5/8&offset=1/4&angle=28&turn=30&gap=1/16&label=brace";

/// The rules of the accessibility checks broken on the page in each of its states.
fn broken_rules(page: &Page) -> Vec<(&'static str, Vec<Violation>)> {
    let mut broken = Vec::new();
    let mut check = |state: &'static str| {
        let violations = page.axe();
        if !violations.is_empty() {
            broken.push((state, violations));
        }
    };
    check("first visit");
    page.open_fragment(BUSY);
    page.button("No printer near? Mark by hand").click();
    check("caution and table");
    page.field("Branch diameter").type_text("1 5/");
    check("number that cannot be used");
    page.open_fragment("v=1&cut=laser&paper=A9");
    check("link with wrong keys");
    page.open_fragment("v=1&mains=3&kind=bent&kind2=rectangular&corner2=99");
    check("several mains, one of them wrong");
    page.open_fragment("v=1");
    page.button("Start a list of pieces").click();
    for parts in [".jobs", ".after"] {
        page.wait_until("the workshop is there", |page| page.first(parts).is_some());
    }
    page.run(
        "document.querySelector('.jobs').open = true;
         [...document.querySelectorAll('.jobs button')]
             .find(button => button.innerText === 'See an example in inches').click()",
        Vec::new(),
    );
    page.wait_until("the example is there", |page| page.says("13. handle stay"));
    page.run(
        "document.querySelectorAll('.list .piece')[4].click();
         document.querySelectorAll('details').forEach(details => { details.open = true });
         document.querySelectorAll('[name=what-to-print]')[1].click()",
        Vec::new(),
    );
    page.wait_until("the whole job is laid out", |page| {
        page.run(
            "return document.querySelectorAll('.sheets .page').length > 5
                 && !document.querySelector('button.print').disabled",
            Vec::new(),
        ) == json!(true)
    });
    check("job of many pieces");
    broken
}

#[test]
fn accessibility_rules_hold_on_a_desktop() {
    assert_eq!(DESKTOP.visit(broken_rules), []);
}

#[test]
fn accessibility_rules_hold_in_the_dark() {
    let page = Page::open_on(WIDE.dark());
    assert_eq!(broken_rules(&page), []);
}

#[test]
fn accessibility_rules_hold_on_a_phone() {
    assert_eq!(PHONE.visit(broken_rules), []);
}

#[test]
fn accessibility_rules_hold_on_a_phone_in_the_dark() {
    let page = Page::open_on(Device::PHONE.dark());
    assert_eq!(broken_rules(&page), []);
}

#[test]
fn phone_does_not_scroll_sideways_and_its_targets_suit_a_finger() {
    PHONE.visit(|page| {
        for link in [
            "v=1",
            BUSY,
            "v=1&branch=168.3&main=219.1&angle=45&label=a+label+that+is+as+long+as+labels+can+be",
        ] {
            page.open_fragment(link);
            page.button("No printer near? Mark by hand").click();
            page.field("Main diameter").type_text("2/");
            let widths = page.run(
                "return [innerWidth, document.documentElement.scrollWidth]",
                Vec::new(),
            );
            assert_eq!(widths, json!([390, 390]), "{link}");
            // WCAG 2.2, success criterion 2.5.8: targets of at least 24 by 24 CSS pixels.
            let small = page.run(
                "return [...document.querySelectorAll('button, select, summary, input, a[href]')]
                     .map(target => target.closest('label.choice, label') ?? target)
                     .filter(target => target.checkVisibility())
                     .map(target => [target.innerText || target.id, target.getBoundingClientRect()])
                     .filter(([, { width, height }]) => width < 24 || height < 24)
                     .map(([name, { width, height }]) => `${name}: ${width} × ${height}`)",
                Vec::new(),
            );
            assert_eq!(small, json!([]), "{link}");
            // Nothing of a field is off the screen.
            let outside = page.run(
                "return [...document.querySelectorAll('input, select, button')]
                     .filter(part => part.checkVisibility())
                     .filter(part => { const { left, right } = part.getBoundingClientRect();
                                       return left < 0 || right > innerWidth })
                     .map(part => part.id || part.innerText)",
                Vec::new(),
            );
            assert_eq!(outside, json!([]), "{link}");
        }
    });
}

#[test]
fn everything_has_a_name() {
    DESKTOP.visit(|page| {
        page.open_fragment(BUSY);
        page.button("No printer near? Mark by hand").click();
        let usable = "input, select, textarea, button, summary, a[href], canvas, [tabindex]";
        let names = page.names_of(usable);
        assert!(names.len() > 30, "{names:?}");
        assert!(!names.contains(&String::new()), "{names:?}");
        // The drawings too: nobody who cannot see them hears silence.
        let drawings = page.names_of("svg");
        assert!(drawings.len() >= 4, "{drawings:?}");
        assert!(drawings.iter().all(|name| name.len() > 10), "{drawings:?}");
    });
}

/// Goes on by Tab until a name has the focus; the names passed on the way.
#[track_caller]
fn tab_to(page: &Page, name: &str) -> Vec<String> {
    let mut passed = Vec::new();
    while passed.len() < 60 {
        page.press(&char::from(Key::Tab).to_string());
        let focused = page.focused();
        if focused == name {
            return passed;
        }
        passed.push(focused);
    }
    panic!("Tab does not reach \"{name}\": {passed:?}");
}

fn all(page: &Page, text: &str) {
    let (hold, release) = (char::from(Key::Control), char::from(Key::Null));
    page.press(&format!("{hold}a{release}{text}"));
}

#[test]
fn whole_job_by_keyboard_alone() {
    DESKTOP.visit(|page| {
        page.open_fragment("v=1&unit=mm");
        page.run("window.print = () => { window.dialogs = (window.dialogs ?? 0) + 1 }", Vec::new());
        tab_to(page, "Label");
        page.press("upright, left");
        tab_to(page, "Branch diameter");
        all(page, "33.7");
        for (name, text) in [
            ("Branch wall", "3.2"),
            ("Main diameter", "60.3"),
            ("Angle", "55"),
            ("Offset", "-6"),
        ] {
            let passed = tab_to(page, name);
            assert_eq!(passed, [""; 0], "the fields of the sketch follow each other");
            all(page, text);
        }
        tab_to(page, "Grinder, square to the wall The line clears the whole wall, bore edge included.");
        page.press(&char::from(Key::Up).to_string());
        assert!(page.focused().starts_with("Hole saw"));
        tab_to(page, "Root gap");
        all(page, ".5");
        let passed = tab_to(page, "Paper");
        assert!(passed.iter().any(|name| name.starts_with("3D drawing")), "{passed:?}");
        page.press("Le");
        tab_to(page, "Print");
        page.press(&char::from(Key::Enter).to_string());
        let dialogs = || page.run("return window.dialogs ?? 0", Vec::new());
        page.wait_until("the dialog opens", |_| dialogs() != 0);
        page.wait_until("the address follows", |page| {
            page.url().contains(
                "branch=33.7&wall=3.2&main=60.3&angle=55&offset=-6&cut=saw&gap=.5&turn=0&label=upright,%20left&paper=Letter",
            )
        });
        // Back up to the other Print button, and what the keyboard did taken back.
        let (hold, release) = (char::from(Key::Control), char::from(Key::Null));
        page.press(&format!("{hold}z{release}"));
        page.wait_until("the paper is as before", |page| page.url().contains("paper=A4"));
        assert_eq!(dialogs(), 1, "it opened once");
    });
}

#[test]
fn focus_can_be_seen() {
    DESKTOP.visit(|page| {
        for name in ["Label", "Branch diameter", "Paper"] {
            tab_to(page, name);
            let ring = page.run(
                "const { outlineStyle, outlineWidth } = getComputedStyle(document.activeElement);
                 return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2",
                Vec::new(),
            );
            assert_eq!(ring, true, "{name}");
        }
    });
}

#[test]
fn little_movement_means_none() {
    let page = Page::open_on(WIDE.reduced_motion());
    page.button("From the heel").click();
    page.field("Angle").type_text("5/");
    page.field("Angle").type_text("50");
    page.button("No printer near? Mark by hand").click();
    let moving = page.run(
        "const long = value => value.split(',').some(time => parseFloat(time) > 0);
         return [...document.querySelectorAll('*')].filter(part => {
             const { transitionDuration, animationName, animationDuration, scrollBehavior }
                 = getComputedStyle(part);
             return long(transitionDuration) || scrollBehavior === 'smooth'
                 || (animationName !== 'none' && long(animationDuration));
         }).length + document.getAnimations().length",
        Vec::new(),
    );
    assert_eq!(moving, 0);
    assert_eq!(page.troubles(), [""; 0]);
}

#[test]
fn three_dimensional_view_turns_by_key_and_says_so() {
    DESKTOP.visit(|page| {
        let before = page.named("canvas", "picture", &page.names_of("canvas")[0]);
        let view = || page.names_of("canvas").remove(0);
        let start = view();
        assert!(
            start.contains("branch") && start.contains("at 60°"),
            "{start}"
        );
        for _ in 0..12 {
            before.press(&char::from(Key::Right).to_string());
        }
        page.wait_until("the view is another", |_| view() != start);
        before.press(&char::from(Key::Home).to_string());
        page.wait_until("the view is back", |_| view() == start);
    });
}

#[test]
fn without_webgl_the_rest_works() {
    let page = Page::open_on(WIDE.without_webgl());
    page.wait_until("it is said that there is no view", |page| {
        page.says("This browser cannot show the 3D view (no WebGL2). Everything else works.")
    });
    assert_eq!(page.names_of("canvas"), [""; 0], "no empty picture");
    page.open_fragment("v=1");
    page.field("Branch diameter").type_text("38.1");
    page.field("Angle").type_text("47");
    let pdf = page.print();
    let sheet = Sheet::new(&pdf.pages[0]);
    assert_eq!(sheet.fact("Included angle").as_deref(), Some("47°"));
    assert!((sheet.length("Branch, the tube to cut") - 38.1).abs() < 1e-9);
    assert_eq!(page.axe(), []);
    assert_eq!(page.troubles(), [""; 0]);
}
