//! The stock that the cut list is made from, as typed.

use leptos::prelude::*;

use crate::app::bench::bench;
use crate::app::dom::{El, fill_text, html};
use crate::app::workshop::hand::{Text, at_hand, change_at_hand, number};
use crate::job::list::{USUAL_STOCK_SOURCE, stock_problems};
use crate::job::{AtHand, BarTyped};

/// Bars, kerf and end trim.
pub fn stock() -> El {
    let bench = bench();
    let own = at_hand();
    let nothing = Memo::new(|_| Vec::new());
    let bars = move || (0..own.with(|own| own.stock.bars.len())).collect::<Vec<usize>>();
    let add = html(r#"<button type="button">Add bars</button>"#).on_click(move || {
        change_at_hand(bench, None, |own| own.stock.bars.push(BarTyped::default()));
    });
    let told = move || {
        let unit = bench.typed.with(|typed| typed.unit);
        let told = own.with(|own| stock_problems(&own.stock, unit)).into_iter();
        told.map(|sentence| vec![sentence]).collect()
    };
    let text = |id: &str, name, remark, step| Text {
        id: String::from(id),
        name,
        remark,
        field: None,
        step,
    };
    let losses = html(r#"<div class="numbers"></div>"#)
        .child(number(
            text(
                "kerf",
                "Saw cut",
                "Width that each cut takes. Empty: the usual.",
                30_001,
            ),
            own,
            nothing,
            |own| &mut own.stock.kerf,
        ))
        .child(number(
            text(
                "end-trim",
                "End trim",
                "Off each new bar. Empty: the usual.",
                30_002,
            ),
            own,
            nothing,
            |own| &mut own.stock.end_trim,
        ));
    html(r#"<details class="after"><summary>Stock at hand</summary></details>"#)
        .child(html(r#"<p class="remark"></p>"#).text(USUAL_STOCK_SOURCE))
        .child(html("<div></div>").keyed_of(bars, move |at| bar(at, own)))
        .child(html(r#"<div class="row"></div>"#).child(add))
        .child(losses)
        .child(
            html(r#"<div class="notes" role="status"></div>"#).rows_of("<p></p>", fill_text, told),
        )
}

/// Bars of one kind.
fn bar(at: usize, own: Memo<AtHand>) -> El {
    type Get = fn(&mut BarTyped) -> &mut String;
    const TEXTS: [(&str, &str, Get); 4] = [
        ("Tube diameter", "Empty: any.", |bar| &mut bar.outside),
        ("Wall", "Empty: any.", |bar| &mut bar.wall),
        ("Length of a bar", "", |bar| &mut bar.length),
        ("How many", "Empty: as many as needed.", |bar| {
            &mut bar.count
        }),
    ];
    let bench = bench();
    let nothing = Memo::new(|_| Vec::new());
    let mut fields = html(r#"<div class="numbers"></div>"#);
    for (index, (name, remark, get)) in TEXTS.into_iter().enumerate() {
        let text = Text {
            id: format!("bar-{at}-{index}"),
            name,
            remark,
            field: None,
            #[allow(clippy::cast_possible_truncation, reason = "few bars")]
            step: 40_000 + (at * 4 + index) as u32,
        };
        let field = number(text, own, nothing, move |own| {
            // The row goes with its bars; a text of some that have gone has nowhere to go.
            if own.stock.bars.len() <= at {
                own.stock.bars.resize(at + 1, BarTyped::default());
            }
            get(&mut own.stock.bars[at])
        });
        fields = fields.child(field);
    }
    let away = html(r#"<button type="button"></button>"#)
        .text(&format!("Take bars {} away", at + 1))
        .on_click(move || {
            change_at_hand(bench, None, |own| {
                if at < own.stock.bars.len() {
                    own.stock.bars.remove(at);
                }
            });
        });
    html(r#"<div class="saw"></div>"#)
        .child(html("<h3></h3>").text(&format!("Bars {}", at + 1)))
        .child(fields)
        .child(away)
}
