//! Serves the built site, or one page of a test's own, on this machine, and hears what goes wrong
//! in it. It can be renewed, as by its owner, and cut off, as by a dead network.

use std::collections::HashMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, SystemTime};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use http::{Request, Response, StatusCode, header};
use http_body_util::{BodyExt, Full};
use hyper::body::{Bytes, Incoming};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::TokioIo;
use sha2::{Digest, Sha256};
use tokio::net::TcpListener;
use tokio::runtime::{Builder, Runtime};

use crate::recorder::{RECORDER, SCRIPT, TROUBLES, with_recorder};

/// The file that keeps the site in the browser. It knows the page by its digest.
const SERVICE_WORKER: &str = "service_worker.js";

/// A web server on 127.0.0.1 that ends with the value.
pub struct Site {
    shared: Arc<Shared>,
    port: u16,
    /// The folder that the site is in, with a slash on both sides.
    folder: String,
    /// Whether its page hands on its troubles.
    has_recorder: bool,
    /// Runs the server, and stops it when dropped.
    _runtime: Runtime,
}

/// What the server and the test both look at.
#[derive(Default)]
struct Shared {
    files: Mutex<HashMap<String, Vec<u8>>>,
    troubles: Mutex<Vec<String>>,
    asked: Mutex<Vec<String>>,
    cut: AtomicBool,
    /// How long an answer takes, milliseconds.
    late: AtomicU64,
}

impl Site {
    /// The release site in `dist/`, which tells its troubles.
    ///
    /// # Panics
    /// When there is none.
    #[must_use]
    pub fn built() -> Self {
        let mut files = built_files("/");
        let page = files.get_mut("/index.html").expect("looked for before");
        let without = digest(page);
        *page = with_recorder(page);
        let with = digest(page);
        replace_in(&mut files, "/", SERVICE_WORKER, &without, &with);
        Self {
            has_recorder: true,
            ..Self::start(files, "/")
        }
    }

    /// The release site in `dist/` byte for byte, in a folder such as `/shop/tools/`. Only in
    /// Chromium are its troubles heard.
    ///
    /// # Panics
    /// When there is none.
    #[must_use]
    pub fn built_in(folder: &str) -> Self {
        Self::start(built_files(folder), folder)
    }

    /// A site of one page, for tests of the browser itself.
    #[must_use]
    pub fn of_page(html: &str) -> Self {
        let icon = ("/favicon.ico".to_owned(), Vec::new());
        let page = ("/index.html".to_owned(), with_recorder(html.as_bytes()));
        Self {
            has_recorder: true,
            ..Self::start(HashMap::from([icon, page]), "/")
        }
    }

    /// A site without a page.
    #[must_use]
    pub fn empty() -> Self {
        Self::start(HashMap::new(), "/")
    }

    fn start(files: HashMap<String, Vec<u8>>, folder: &str) -> Self {
        let runtime = Builder::new_multi_thread()
            .worker_threads(1)
            .enable_io()
            .enable_time()
            .build()
            .expect("a tokio runtime");
        let listener = runtime.block_on(TcpListener::bind("127.0.0.1:0"));
        let listener = listener.expect("a free port on 127.0.0.1");
        let port = listener.local_addr().map_or(0, |address| address.port());
        let shared = Arc::new(Shared {
            files: Mutex::new(files),
            ..Shared::default()
        });
        runtime.spawn(serve(listener, Arc::clone(&shared)));
        Self {
            shared,
            port,
            folder: folder.to_owned(),
            has_recorder: false,
            _runtime: runtime,
        }
    }

    /// Address of the server, without a path: `http://127.0.0.1:8123`.
    #[must_use]
    pub fn origin(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// Address of the site's page.
    #[must_use]
    pub fn address(&self) -> String {
        format!("{}{}", self.origin(), self.folder)
    }

    /// Whether its page hands on what goes wrong in it, in every engine.
    pub(crate) const fn has_recorder(&self) -> bool {
        self.has_recorder
    }

    /// What the server heard of that went wrong so far: files missing, and of pages with the
    /// recorder errors in the console or uncaught.
    #[must_use]
    pub fn troubles(&self) -> Vec<String> {
        free(&self.shared.troubles).clone()
    }

    /// Starts the list of troubles anew.
    pub(crate) fn forget_troubles(&self) {
        free(&self.shared.troubles).clear();
    }

    /// Paths that were asked for since this was last called, but for the recorder's own.
    #[must_use]
    pub fn asked(&self) -> Vec<String> {
        std::mem::take(&mut *free(&self.shared.asked))
    }

    /// Answers nothing from now on, as a dead network; or answers again.
    pub fn cut(&self, cut: bool) {
        self.shared.cut.store(cut, Ordering::SeqCst);
    }

    /// Answers after a time from now on, as over a slow network.
    pub fn answer_late(&self, by: Duration) {
        let by = u64::try_from(by.as_millis()).unwrap_or(u64::MAX);
        self.shared.late.store(by, Ordering::SeqCst);
    }

    /// Puts other content in a file's place, as a server does that is being renewed.
    pub fn damage(&self, name: &str) {
        let path = format!("{}{name}", self.folder);
        let damaged = free(&self.shared.files).insert(path, b"damaged".to_vec());
        assert!(damaged.is_some(), "the site has no {name}");
    }

    /// Puts a newer version in the place of the built site: the same but for its title and the
    /// name of the workshop's folder. The older files are gone.
    ///
    /// # Panics
    /// When the site is not made as `cargo xtask build` makes it.
    pub fn renew(&self, title: &str) {
        let mut files = free(&self.shared.files);
        let older = files
            .keys()
            .find_map(|path| {
                let start = path.find("workshop-")?;
                Some(path[start..].split('/').next()?.to_owned())
            })
            .expect("a folder of the workshop");
        let newer = "workshop-newer";
        *files = files
            .drain()
            .map(|(path, bytes)| (path.replace(&older, newer), bytes))
            .collect();
        let folder = &self.folder;
        let before = digest(&files[&format!("{folder}index.html")]);
        replace_in(&mut files, folder, "index.html", &older, newer);
        let new_title = format!("<title>{title}: ");
        replace_in(&mut files, folder, "index.html", "<title>", &new_title);
        let after = digest(&files[&format!("{folder}index.html")]);
        replace_in(&mut files, folder, SERVICE_WORKER, &older, newer);
        replace_in(&mut files, folder, SERVICE_WORKER, &before, &after);
        let version = "const VERSION = '";
        let new_version = format!("{version}newer-");
        replace_in(&mut files, folder, SERVICE_WORKER, version, &new_version);
    }
}

fn free<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The files of the release site by their paths.
fn built_files(folder: &str) -> HashMap<String, Vec<u8>> {
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
    let files = files_in(&dist, &dist).into_iter();
    files
        .map(|(name, bytes)| (format!("{folder}{name}"), bytes))
        .collect()
}

/// Digest of some content as subresource integrity writes it.
fn digest(content: &[u8]) -> String {
    format!("sha256-{}", STANDARD.encode(Sha256::digest(content)))
}

/// Puts other words in the place of words that a file of the site must hold.
fn replace_in(
    files: &mut HashMap<String, Vec<u8>>,
    folder: &str,
    name: &str,
    words: &str,
    others: &str,
) {
    let file = files.get_mut(&format!("{folder}{name}"));
    let file = file.unwrap_or_else(|| panic!("the site has no {name}"));
    let text = String::from_utf8_lossy(file).into_owned();
    assert!(text.contains(words), "{name} does not say {words}");
    *file = text.replace(words, others).into_bytes();
}

/// Answers every connection that comes. A browser keeps several open, so none waits for another.
async fn serve(listener: TcpListener, shared: Arc<Shared>) {
    loop {
        let Ok((stream, _)) = listener.accept().await else {
            continue;
        };
        let shared = Arc::clone(&shared);
        tokio::spawn(async move {
            let answer = service_fn(|request| answer(request, &shared));
            // The browser may go away meanwhile, which is no trouble of the page.
            let _ = http1::Builder::new()
                .serve_connection(TokioIo::new(stream), answer)
                .await;
        });
    }
}

/// # Errors
/// The network is cut: the connection ends without an answer.
async fn answer(request: Request<Incoming>, shared: &Shared) -> io::Result<Response<Full<Bytes>>> {
    if shared.cut.load(Ordering::SeqCst) {
        return Err(io::ErrorKind::ConnectionReset.into());
    }
    let late = shared.late.load(Ordering::SeqCst);
    tokio::time::sleep(Duration::from_millis(late)).await;
    let mut path = request.uri().path().to_owned();
    if path.ends_with('/') {
        path += "index.html";
    }
    Ok(match path.as_str() {
        TROUBLES => {
            let told = request.into_body().collect().await;
            let told = told.map_or_else(|error| error.to_string().into(), |body| body.to_bytes());
            free(&shared.troubles).push(String::from_utf8_lossy(&told).into_owned());
            Response::default()
        }
        RECORDER => with_type(SCRIPT.into(), &path),
        _ => {
            free(&shared.asked).push(path.clone());
            let file = free(&shared.files).get(&path).cloned();
            file.map_or_else(
                || {
                    let trouble = format!("asked for {path}, which the site does not have");
                    free(&shared.troubles).push(trouble);
                    let mut missing = Response::default();
                    *missing.status_mut() = StatusCode::NOT_FOUND;
                    missing
                },
                |bytes| with_type(bytes, &path),
            )
        }
    })
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
            let name = name.to_string_lossy().replace('\\', "/");
            files.insert(name, fs::read(&path).expect("a readable file in dist/"));
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
