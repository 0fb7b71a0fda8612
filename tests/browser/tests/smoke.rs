//! The built page opens in a fresh browser and keeps to itself.

use browser_tests::{Device, Page};

#[test]
fn opens_without_trouble_and_asks_no_other_site() {
    let page = Page::open();
    assert_eq!(page.heading("Copewright").text(), "Copewright");
    assert_eq!(page.troubles(), [""; 0]);
    assert_eq!(page.foreign_requests(), [""; 0]);
}

#[test]
fn phone_has_its_width_and_the_page_does_not_scroll_sideways() {
    let page = Page::open_on(Device::PHONE);
    let widths = page.run(
        "return [innerWidth, document.documentElement.scrollWidth]",
        Vec::new(),
    );
    assert_eq!(widths, serde_json::json!([390, 390]));
}

#[test]
fn accessibility_rules_hold() {
    for device in [Device::DESKTOP, Device::DESKTOP.dark(), Device::PHONE] {
        assert_eq!(Page::open_on(device).axe(), [], "on {device:?}");
    }
}
