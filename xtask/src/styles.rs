//! The style sheets as one: for each of them a request less, and a digest that nothing compresses.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

use crate::page::{attribute, digest, put_before, short_digest, tags};

/// Puts one style sheet in the place of those that the page links, in their order, named by what it
/// holds; tells the page.
pub fn join(dist: &Path, page: &str) -> Result<String> {
    let mut style = String::new();
    for name in names(page)? {
        let own = dist.join(name);
        style += &fs::read_to_string(&own).with_context(|| format!("reading {name}"))?;
        fs::remove_file(&own)?;
    }
    let name = format!("style-{}.css", short_digest(style.as_bytes()));
    fs::write(dist.join(&name), &style).with_context(|| format!("writing {name}"))?;
    linked(page, &name, &digest(style.as_bytes()))
}

fn links(page: &str) -> Vec<&str> {
    let mut links = tags(page, "link");
    links.retain(|link| attribute(link, "rel") == Some("stylesheet"));
    links
}

/// The style sheets that a page links, in order.
fn names(page: &str) -> Result<Vec<&str>> {
    let name = |link| Some(attribute(link, "href")?.trim_start_matches("./"));
    let names: Option<Vec<&str>> = links(page).into_iter().map(name).collect();
    names.context("a style sheet of the page has no address")
}

/// The page with a link of one style sheet in the place of all that it has.
fn linked(page: &str, name: &str, digest: &str) -> Result<String> {
    let all = links(page);
    let first = all.first().context("the page links no style sheet")?;
    let one = format!("<link href=./{name} integrity={digest} rel=stylesheet>");
    let page = put_before(page, first, &one)?;
    Ok(all.iter().fold(page, |page, link| page.replace(link, "")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_link_stands_where_the_first_stood() {
        let page = "<!doctype html><link href=./i.svg rel=icon><link href=./a.css integrity=x \
                    rel=stylesheet><link href=./b.css integrity=y rel=stylesheet><title>t</title>";
        assert_eq!(names(page).ok(), Some(vec!["a.css", "b.css"]));
        assert_eq!(
            linked(page, "c.css", "z").ok().as_deref(),
            Some(
                "<!doctype html><link href=./i.svg rel=icon><link href=./c.css integrity=z \
                 rel=stylesheet><title>t</title>"
            )
        );
        assert!(linked("<!doctype html><title>t</title>", "c.css", "z").is_err());
    }
}
