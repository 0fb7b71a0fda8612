//! Serves the built site, or one page of a test's own, on this machine, and hears what goes wrong
//! in it.

use std::collections::HashMap;
use std::convert::Infallible;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

use http::{Request, Response, StatusCode, header};
use http_body_util::{BodyExt, Full};
use hyper::body::{Bytes, Incoming};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::TokioIo;
use tokio::net::TcpListener;
use tokio::runtime::{Builder, Runtime};

/// Where the page sends its troubles.
const TROUBLES: &str = "/_troubles";
/// Where the script that sends them is found.
const RECORDER: &str = "/_recorder.js";

/// Hands on every error that the page would only show in its console. The request waits for its
/// answer, so that nothing is lost when the page goes away right after. Works in every engine.
const RECORDER_SCRIPT: &str = r"(() => {
  const tell = (...what) => {
    const request = new XMLHttpRequest();
    request.open('POST', '/_troubles', false);
    request.send(what.map(part => part?.stack ?? String(part)).join(' '));
  };
  addEventListener('error', event => event.target === window
    ? tell('uncaught:', event.error ?? event.message)
    : tell('did not load:', event.target.src ?? event.target.href), true);
  addEventListener('unhandledrejection', event => tell('unhandled rejection:', event.reason));
  addEventListener('securitypolicyviolation', event =>
    tell('content policy:', event.violatedDirective, event.blockedURI));
  const error = console.error;
  console.error = (...what) => { tell('console.error:', ...what); error.apply(console, what); };
})();";

/// A web server on 127.0.0.1 that ends with the value.
pub struct Site {
    troubles: Arc<Mutex<Vec<String>>>,
    port: u16,
    /// Runs the server, and stops it when dropped.
    _runtime: Runtime,
}

impl Site {
    /// The release site in `dist/`.
    ///
    /// # Panics
    /// When there is none.
    #[must_use]
    pub fn built() -> Self {
        let workspace = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let dist = workspace.join("dist");
        let index = dist.join("index.html");
        assert!(
            index.is_file(),
            "there is no built site in dist/: run `cargo xtask build` first"
        );
        // Shown only beside a failure, where it may be the reason.
        let sources = ["src", "style", "public", "index.html"].map(|name| workspace.join(name));
        if newest(&sources) > modified(&index) {
            eprintln!("note: dist/ is older than the sources; `cargo xtask build` renews it");
        }
        Self::start(files_in(&dist, &dist))
    }

    /// A site of one page, for tests of the browser itself.
    #[must_use]
    pub fn of_page(html: &str) -> Self {
        let icon = ("/favicon.ico".to_owned(), Vec::new());
        let page = ("/index.html".to_owned(), html.as_bytes().to_vec());
        Self::start(HashMap::from([icon, page]))
    }

    fn start(files: HashMap<String, Vec<u8>>) -> Self {
        let runtime = Builder::new_multi_thread()
            .worker_threads(1)
            .enable_io()
            .build()
            .expect("a tokio runtime");
        let listener = runtime.block_on(TcpListener::bind("127.0.0.1:0"));
        let listener = listener.expect("a free port on 127.0.0.1");
        let port = listener.local_addr().map_or(0, |address| address.port());
        let troubles = Arc::default();
        runtime.spawn(serve(listener, Arc::new(files), Arc::clone(&troubles)));
        Self {
            troubles,
            port,
            _runtime: runtime,
        }
    }

    /// Address of the site, without a path: `http://127.0.0.1:8123`.
    #[must_use]
    pub fn origin(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// What went wrong in its pages so far: errors in the console or uncaught, files missing.
    #[must_use]
    pub fn troubles(&self) -> Vec<String> {
        let troubles = self.troubles.lock();
        troubles.unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Starts the list of troubles anew.
    pub(crate) fn forget_troubles(&self) {
        let troubles = self.troubles.lock();
        troubles.unwrap_or_else(PoisonError::into_inner).clear();
    }
}

/// Answers every connection that comes. A browser keeps several open, so none waits for another.
async fn serve(
    listener: TcpListener,
    files: Arc<HashMap<String, Vec<u8>>>,
    troubles: Arc<Mutex<Vec<String>>>,
) {
    loop {
        let Ok((stream, _)) = listener.accept().await else {
            continue;
        };
        let (files, troubles) = (Arc::clone(&files), Arc::clone(&troubles));
        tokio::spawn(async move {
            let answer = service_fn(|request| answer(request, &files, &troubles));
            // The browser may go away meanwhile, which is no trouble of the page.
            let _ = http1::Builder::new()
                .serve_connection(TokioIo::new(stream), answer)
                .await;
        });
    }
}

async fn answer(
    request: Request<Incoming>,
    files: &HashMap<String, Vec<u8>>,
    troubles: &Mutex<Vec<String>>,
) -> Result<Response<Full<Bytes>>, Infallible> {
    let report = |trouble: String| {
        let mut troubles = troubles.lock().unwrap_or_else(PoisonError::into_inner);
        troubles.push(trouble);
    };
    let path = match request.uri().path() {
        "/" => "/index.html".to_owned(),
        path => path.to_owned(),
    };
    Ok(match path.as_str() {
        TROUBLES => {
            let told = request.into_body().collect().await;
            let told = told.map_or_else(|error| error.to_string().into(), |body| body.to_bytes());
            report(String::from_utf8_lossy(&told).into_owned());
            Response::default()
        }
        RECORDER => with_type(RECORDER_SCRIPT.into(), &path),
        _ => match files.get(&path) {
            Some(page) if path.ends_with(".html") => with_type(with_recorder(page), &path),
            Some(bytes) => with_type(bytes.clone(), &path),
            None => {
                report(format!("asked for {path}, which the site does not have"));
                let mut missing = Response::default();
                *missing.status_mut() = StatusCode::NOT_FOUND;
                missing
            }
        },
    })
}

/// The page with the recorder as its first script, which may stand before `<head>`.
fn with_recorder(page: &[u8]) -> Vec<u8> {
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

fn with_type(bytes: Vec<u8>, path: &str) -> Response<Full<Bytes>> {
    let kind = match path.rsplit('.').next() {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        Some("json") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("woff2") => "font/woff2",
        _ => "application/octet-stream",
    };
    let mut response = Response::new(Full::from(bytes));
    let kind = header::HeaderValue::from_static(kind);
    response.headers_mut().insert(header::CONTENT_TYPE, kind);
    response
}

fn files_in(folder: &Path, root: &Path) -> HashMap<String, Vec<u8>> {
    let mut files = HashMap::new();
    for path in children(folder) {
        if path.is_dir() {
            files.extend(files_in(&path, root));
        } else {
            let name = path.strip_prefix(root).unwrap_or(&path);
            let url = format!("/{}", name.to_string_lossy().replace('\\', "/"));
            files.insert(url, fs::read(&path).expect("a readable file in dist/"));
        }
    }
    files
}

fn children(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|entry| entry.path()).collect()
}

fn newest(paths: &[PathBuf]) -> Option<SystemTime> {
    paths
        .iter()
        .map(|path| {
            if path.is_dir() {
                newest(&children(path))
            } else {
                modified(path)
            }
        })
        .max()
        .flatten()
}

fn modified(path: &Path) -> Option<SystemTime> {
    fs::metadata(path).and_then(|data| data.modified()).ok()
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
