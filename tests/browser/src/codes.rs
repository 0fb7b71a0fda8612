//! The codes on printed sheets, as a telephone's camera would see them.

use std::process::Command;

/// Dots to an inch of the pictures. The reader that is used here finds a code among other strokes
/// in one picture and not in another, as a hand that holds a telephone moves until it is found.
const DOTS: [u32; 4] = [200, 300, 150, 250];

/// What the codes on each sheet of a document say, read by another library from a picture of it.
///
/// # Panics
/// When the document cannot be drawn.
#[must_use]
pub fn codes_on_sheets(pdf: &[u8]) -> Vec<Vec<String>> {
    codes(pdf, &["-r", "200"])
}

/// What the codes on one sheet, counted from 0, say: looked at until as many are read as are
/// wanted, each once.
///
/// # Panics
/// When the document cannot be drawn.
#[must_use]
pub fn codes_on_sheet(pdf: &[u8], sheet: usize, wanted: usize) -> Vec<String> {
    let number = (sheet + 1).to_string();
    let mut read: Vec<String> = Vec::new();
    for dots in DOTS {
        let dots = dots.to_string();
        let seen = codes(pdf, &["-r", &dots, "-f", &number, "-l", &number]);
        for code in seen.concat() {
            if !read.contains(&code) {
                read.push(code);
            }
        }
        if read.len() >= wanted {
            break;
        }
    }
    read
}

fn codes(pdf: &[u8], drawn: &[&str]) -> Vec<Vec<String>> {
    let folder = tempfile::tempdir().unwrap();
    let (from, to) = (
        folder.path().join("sheets.pdf"),
        folder.path().join("sheet"),
    );
    std::fs::write(&from, pdf).unwrap();
    let done = Command::new("pdftoppm")
        .arg("-gray")
        .args(drawn)
        .args([&from, &to])
        .status();
    assert!(done.unwrap().success());
    let mut pictures: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "pgm"))
        .collect();
    pictures.sort();
    let mut read = Vec::new();
    for picture in pictures {
        let bytes = std::fs::read(picture).unwrap();
        // "P5", width and height, the whitest grey: three lines, then a byte for each dot.
        let mut lines = bytes.splitn(4, |byte| *byte == b'\n');
        assert_eq!(lines.next(), Some(&b"P5"[..]));
        let size = String::from_utf8(lines.next().unwrap().to_vec()).unwrap();
        let size: Vec<usize> = size.split(' ').map(|side| side.parse().unwrap()).collect();
        let dots = lines.nth(1).unwrap();
        let mut seen = rqrr::PreparedImage::prepare_from_greyscale(size[0], size[1], |x, y| {
            dots[y * size[0] + x]
        });
        let grids = seen.detect_grids();
        let codes = grids.iter().filter_map(|grid| Some(grid.decode().ok()?.1));
        read.push(codes.collect());
    }
    read
}
