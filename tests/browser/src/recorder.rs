//! The script that a test's page begins with: it hands on what goes wrong in the page, and knows
//! when the page has settled.

/// Where the page sends its troubles.
pub(crate) const TROUBLES: &str = "/_troubles";
/// Where the script that sends them is found.
pub(crate) const RECORDER: &str = "/_recorder.js";

/// Hands on every error that the page would only show in its console. The request waits for its
/// answer, so that nothing is lost when the page goes away right after. Works in every engine.
///
/// Counts, too, what waits for a moment, as until the hands rest: what comes of it moves the page
/// under a press that is already aimed.
pub(crate) const SCRIPT: &str = r"(() => {
  // Only in Chromium does the stack of calls begin with the message.
  const inWords = part => part?.stack ? `${part} ${part.stack}` : String(part);
  const tell = (...what) => {
    const request = new XMLHttpRequest();
    request.open('POST', '/_troubles', false);
    request.send(what.map(inWords).join(' '));
  };
  addEventListener('error', event => event.target === window
    ? tell('uncaught:', event.error ?? event.message)
    : tell('did not load:', event.target.src ?? event.target.href), true);
  addEventListener('unhandledrejection', event => tell('unhandled rejection:', event.reason));
  addEventListener('securitypolicyviolation', event =>
    tell('content policy:', event.violatedDirective, event.blockedURI));
  const [later, never] = [window.setTimeout, window.clearTimeout];
  const awaited = new Set();
  window.setTimeout = (act, pause, ...rest) => {
    const id = later(() => { awaited.delete(id); act(...rest); }, pause);
    if (pause <= 250) awaited.add(id);
    return id;
  };
  window.clearTimeout = id => { awaited.delete(id); never(id); };
  window.isSettled = () => awaited.size === 0;
  const error = console.error;
  console.error = (...what) => { tell('console.error:', ...what); error.apply(console, what); };
})();";

/// The page with the recorder as its first script, which may stand before `<head>`.
pub(crate) fn with_recorder(page: &[u8]) -> Vec<u8> {
    let page = String::from_utf8_lossy(page);
    let after_doctype = page.find('>').map_or(0, |end| end + 1);
    let (doctype, rest) = page.split_at(after_doctype);
    // The root element's own attributes must come before anything that implies a root element.
    let root = rest
        .find("<html")
        .and_then(|at| Some(at + rest[at..].find('>')? + 1));
    let (root, rest) = rest.split_at(root.unwrap_or(0));
    format!("{doctype}{root}<script src=\"{RECORDER}\"></script>{rest}").into_bytes()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn recorder_comes_first_and_leaves_the_root_element_alone() {
        let with = |page: &str| String::from_utf8(with_recorder(page.as_bytes())).unwrap();
        let script = "<script src=\"/_recorder.js\"></script>";
        assert_eq!(
            with("<!doctype html><html lang=en><meta charset=utf-8>"),
            format!("<!doctype html><html lang=en>{script}<meta charset=utf-8>")
        );
        assert_eq!(
            with("<!doctype html><p>"),
            format!("<!doctype html>{script}<p>")
        );
    }
}
