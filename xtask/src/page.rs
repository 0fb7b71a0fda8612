//! The page that Trunk leaves, as text. Its minifier writes so regularly that tags can be found
//! without a parser; whatever is not found is an error.

use anyhow::{Context, Result};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// Digest of some content as content security policies and subresource integrity write it.
pub fn digest(content: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(content)))
}

/// The first sixteen hexadecimal digits of a digest: enough to tell versions apart.
pub fn short_digest(content: &[u8]) -> String {
    let digest = Sha256::digest(content);
    let bytes = digest.iter().take(8);
    bytes.map(|byte| format!("{byte:02x}")).collect()
}

/// The whole start tags with this name, in order.
pub fn tags<'a>(page: &'a str, name: &str) -> Vec<&'a str> {
    let open = format!("<{name}");
    page.match_indices(&open)
        .filter_map(|(at, _)| {
            let end = page[at..].find('>')?;
            let tag = &page[at..=at + end];
            tag[open.len()..].starts_with([' ', '>']).then_some(tag)
        })
        .collect()
}

/// The value of a tag's attribute, quoted or not.
pub fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let (_, rest) = tag.split_once(&format!(" {name}="))?;
    match rest.strip_prefix('"') {
        Some(quoted) => quoted.split('"').next(),
        None => rest.split([' ', '>']).next(),
    }
}

/// Texts of the scripts that stand in the page itself and are run.
pub fn inline_scripts(page: &str) -> Vec<&str> {
    page.split("<script")
        .skip(1)
        .filter_map(|rest| rest.split_once('>'))
        .filter(|(tag, _)| !tag.contains(" src=") && !tag.contains("text/plain"))
        .filter_map(|(_, rest)| Some(rest.split_once("</script>")?.0))
        .collect()
}

/// Puts some text before the first place where a mark stands.
pub fn put_before(page: &str, mark: &str, text: &str) -> Result<String> {
    let at = page
        .find(mark)
        .with_context(|| format!("the built page has no `{mark}`"))?;
    let (head, tail) = page.split_at(at);
    Ok(format!("{head}{text}{tail}"))
}

/// A script without the lines that are only comments.
pub fn without_comments(script: &str) -> String {
    script
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty() && !line.starts_with("//"))
        .map(|line| format!("{line}\n"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digests_are_those_of_the_standard() {
        // The one-block message "abc" of FIPS 180-2, appendix B.1:
        // ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad.
        assert_eq!(short_digest(b"abc"), "ba7816bf8f01cfea");
        assert_eq!(
            digest(b"abc"),
            "sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0="
        );
    }

    #[test]
    fn tags_attributes_and_scripts_are_found() {
        let page = "<!doctype html><head><link href=./a.css rel=stylesheet><linked><link rel=icon>\
                    <script type=module>run(1 > 0)</script><script src=b.js></script>\
                    <script type=text/plain>data</script></head><body data-workshop=\"./w x.js\">";
        assert_eq!(
            tags(page, "link"),
            ["<link href=./a.css rel=stylesheet>", "<link rel=icon>"]
        );
        assert_eq!(attribute(tags(page, "link")[0], "href"), Some("./a.css"));
        assert_eq!(attribute(tags(page, "link")[0], "rel"), Some("stylesheet"));
        assert_eq!(attribute(tags(page, "link")[1], "href"), None);
        assert_eq!(
            attribute(tags(page, "body")[0], "data-workshop"),
            Some("./w x.js")
        );
        assert_eq!(inline_scripts(page), ["run(1 > 0)"]);
    }

    #[test]
    fn text_is_put_before_a_mark_that_must_be_there() {
        assert!(put_before("<p></p>", "</p>", "word").is_ok_and(|page| page == "<p>word</p>"));
        assert!(put_before("<p></p>", "</div>", "word").is_err());
    }

    #[test]
    fn only_whole_lines_of_comment_go() {
        let script = "// A word.\n  const a = 'x//y';\n\n  // Another.\nrun(a);\n";
        assert_eq!(without_comments(script), "const a = 'x//y';\nrun(a);\n");
    }
}
