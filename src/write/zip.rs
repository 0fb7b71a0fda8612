//! Many files as one: a ZIP archive (PKWARE, "APPNOTE.TXT", version 6.3), names in UTF-8.
//!
//! Every file has the earliest day the format knows, so that equal files give equal bytes. The
//! writer of the usual library is four times what this room weighs.

use std::fmt;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

/// How hard files are packed, of 10.
const PACKED: u8 = 9;
/// What a reader must be able to do: directories and deflate.
const NEEDS: u16 = 20;
/// Names are in UTF-8 (general purpose bit 11).
const UTF_8: u16 = 1 << 11;
/// Ways of packing: as it is, and deflated.
const STORED: u16 = 0;
const DEFLATED: u16 = 8;
/// Midnight of 1 January 1980, time and date.
const MADE: [u16; 2] = [0, 1 << 5 | 1];
/// Begin a file, an entry of the directory, and the end.
const FILE: u32 = 0x0403_4b50;
const ENTRY: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;

/// More than an archive of the common kind holds: 65 535 files, or 4 GB.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ArchiveTooLarge;

impl fmt::Display for ArchiveTooLarge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("An archive holds at most 65 535 files and 4 GB. Save fewer pieces at a time.")
    }
}

impl std::error::Error for ArchiveTooLarge {}

/// An archive of files, each a name and what is in it, in their order. Names are taken as they are:
/// [`crate::job::FileNames`] makes safe ones.
///
/// # Errors
/// More than an archive holds.
pub fn zip<'a>(
    files: impl IntoIterator<Item = (&'a str, &'a [u8])>,
) -> Result<Vec<u8>, ArchiveTooLarge> {
    let mut archive = Vec::new();
    let mut directory = Vec::new();
    let mut count = 0_usize;
    for (name, content) in files {
        count += 1;
        let at = long(archive.len())?;
        let packed = shorter(content);
        let (way, body) = match &packed {
            Some(packed) => (DEFLATED, packed.as_slice()),
            None => (STORED, content),
        };
        let mut about = Vec::new();
        for part in [NEEDS, UTF_8, way, MADE[0], MADE[1]] {
            about.extend_from_slice(&part.to_le_bytes());
        }
        for part in [check(content), long(body.len())?, long(content.len())?] {
            about.extend_from_slice(&part.to_le_bytes());
        }
        about.extend_from_slice(&short(name.len())?.to_le_bytes());
        // Nothing more is said of a file here.
        about.extend_from_slice(&[0; 2]);

        archive.extend_from_slice(&FILE.to_le_bytes());
        archive.extend_from_slice(&about);
        archive.extend_from_slice(name.as_bytes());
        archive.extend_from_slice(body);

        directory.extend_from_slice(&ENTRY.to_le_bytes());
        directory.extend_from_slice(&NEEDS.to_le_bytes());
        directory.extend_from_slice(&about);
        // No remark, on the first disk, nothing known of its kind or rights.
        directory.extend_from_slice(&[0; 10]);
        directory.extend_from_slice(&at.to_le_bytes());
        directory.extend_from_slice(name.as_bytes());
    }
    let (at, length) = (long(archive.len())?, long(directory.len())?);
    archive.append(&mut directory);
    archive.extend_from_slice(&END.to_le_bytes());
    archive.extend_from_slice(&[0; 4]);
    for count in [short(count)?; 2] {
        archive.extend_from_slice(&count.to_le_bytes());
    }
    archive.extend_from_slice(&length.to_le_bytes());
    archive.extend_from_slice(&at.to_le_bytes());
    archive.extend_from_slice(&[0; 2]);
    Ok(archive)
}

/// The content packed, if that makes it shorter.
fn shorter(content: &[u8]) -> Option<Vec<u8>> {
    if content.is_empty() {
        return None;
    }
    let packed = miniz_oxide::deflate::compress_to_vec(content, PACKED);
    (packed.len() < content.len()).then_some(packed)
}

fn check(content: &[u8]) -> u32 {
    Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(content)
}

/// The largest of either size says that the truth is elsewhere.
fn long(number: usize) -> Result<u32, ArchiveTooLarge> {
    let number = u32::try_from(number).map_err(|_| ArchiveTooLarge)?;
    (number < u32::MAX).then_some(number).ok_or(ArchiveTooLarge)
}

fn short(number: usize) -> Result<u16, ArchiveTooLarge> {
    let number = u16::try_from(number).map_err(|_| ArchiveTooLarge)?;
    (number < u16::MAX).then_some(number).ok_or(ArchiveTooLarge)
}
