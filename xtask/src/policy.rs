//! The content security policy: what the page may run and load, and nothing else.

use anyhow::{Result, bail};

use crate::page::{digest, inline_scripts, put_before};

/// What the hosted page needs beyond scripts, all of it from its own place.
const OWN: &str = "style-src 'self'; img-src 'self'; connect-src 'self'; worker-src 'self'; \
                   manifest-src 'self'; frame-src 'self'";

/// The hosted page with its policy before anything that the policy rules.
///
/// # Errors
/// Something in the page would not work under it.
pub fn with_policy(page: &str) -> Result<String> {
    refuse_inline(page)?;
    let scripts: String = inline_scripts(page)
        .iter()
        .map(|script| format!(" '{}'", digest(script.as_bytes())))
        .collect();
    put_before(page, "<title>", &tag(&format!("'self'{scripts}"), OWN))
}

/// A policy for the head of a page: what scripts it runs, and the rest that it needs.
pub fn tag(scripts: &str, rest: &str) -> String {
    // Compiling WebAssembly has a word of its own, far narrower than that for `eval`.
    format!(
        "<meta http-equiv=Content-Security-Policy content=\"default-src 'none'; \
         script-src {scripts} 'wasm-unsafe-eval'; {rest}; base-uri 'none'; form-action 'none'\">"
    )
}

/// Refuses what the policy would silently keep from working.
fn refuse_inline(page: &str) -> Result<()> {
    for blocked in ["<style", " style=", " onclick=", " onload=", " onerror="] {
        if page.contains(blocked) {
            bail!(
                "index.html has `{}`, which its content security policy blocks\n\
                 What to do: move it to a style sheet, or to the program",
                blocked.trim()
            );
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_scripts_of_the_page_itself_run() {
        let page = "<head><meta charset=utf-8><title>T</title><script type=module>abc</script>";
        let with = with_policy(page).unwrap_or_default();
        let policy = with.find("http-equiv");
        assert!(policy.is_some() && policy < with.find("<title>"), "{with}");
        let scripts = "script-src 'self' 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=' \
                       'wasm-unsafe-eval'; style-src 'self';";
        assert!(with.contains(scripts), "{with}");
        assert!(with.contains("\"default-src 'none';"), "{with}");
        assert!(!with.contains("unsafe-inline"), "{with}");
    }

    #[test]
    fn what_would_be_blocked_is_refused() {
        assert!(with_policy("<title>T</title><p style=color:red>").is_err());
        assert!(with_policy("<title>T</title><p>style</p>").is_ok());
    }
}
