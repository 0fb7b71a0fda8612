//! Archives, read back by another library.
#![cfg(not(target_arch = "wasm32"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::io::{Cursor, Read};

use copewright::job::FileNames;
use copewright::write::{ArchiveTooLarge, zip};

/// Name and content of every file that another library finds; it compares the check sums.
fn read(archive: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut archive = zip::ZipArchive::new(Cursor::new(archive)).unwrap();
    (0..archive.len())
        .map(|number| {
            let mut file = archive.by_index(number).unwrap();
            assert!(file.is_file() && file.enclosed_name().is_some());
            let mut content = Vec::new();
            file.read_to_end(&mut content).unwrap();
            assert_eq!(content.len() as u64, file.size());
            (file.name().to_owned(), content)
        })
        .collect()
}

fn of(files: &[(String, Vec<u8>)]) -> Result<Vec<u8>, ArchiveTooLarge> {
    zip(files
        .iter()
        .map(|(name, content)| (name.as_str(), content.as_slice())))
}

#[test]
fn what_is_put_in_comes_out() {
    let mut names = FileNames::new();
    let mut number = 1_u32;
    // Numbers without a pattern, which no packing makes shorter.
    let noise: Vec<u8> = (0..5000)
        .map(|_| {
            number = number.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (number >> 24) as u8
        })
        .collect();
    let files: Vec<(String, Vec<u8>)> = [
        (["Trolley", "Łódź – left", "end A"], "pdf", noise),
        (
            ["Trolley", "Brace", "end B"],
            "dxf",
            b"0\nSECTION\n".repeat(4000),
        ),
        (["Trolley", "Brace", "end b"], "dxf", Vec::new()),
        (["Trolley", "横", ""], "csv", b"x".to_vec()),
    ]
    .into_iter()
    .map(|(words, ending, content)| (names.name(&words, ending), content))
    .collect();
    let archive = of(&files).unwrap();
    assert_eq!(read(&archive), files);
    assert_eq!(archive, of(&files).unwrap());
    // 40 KB of one pattern are packed, the noise is not made longer.
    assert!(archive.len() < 5000 + 1500, "{}", archive.len());
}

#[test]
fn an_empty_archive_is_one_too() {
    assert!(read(&of(&[]).unwrap()).is_empty());
}

#[test]
fn more_than_an_archive_holds_is_refused() {
    let many = |count: usize| zip((0..count).map(|_| ("x", b"".as_slice())));
    assert!(many(65_534).is_ok());
    let refused = many(65_535).unwrap_err();
    assert!(refused.to_string().contains("65 535"), "{refused}");
    let name = "x".repeat(70_000);
    assert_eq!(zip([(name.as_str(), b"".as_slice())]), Err(ArchiveTooLarge));
}
