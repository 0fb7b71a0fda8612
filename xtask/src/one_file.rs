//! The whole page as one file that opens by a double click, without a server.
//!
//! It holds the workshop alone, which can all that the page of the first visit can. The program is
//! packed by LZMA, a fifth smaller than what browsers unpack by themselves, and stands in the page as
//! text, seven bits to a letter; `public/one_file.js` unpacks it.

use std::fs;
use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result, bail};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use liblzma::stream::{LzmaOptions, Stream};
use liblzma::write::XzEncoder;

use crate::minify::{Kind, minified};
use crate::offline::own;
use crate::page::{attribute, digest, tags};
use crate::policy;

/// Name of the file, which no visit of the site loads.
pub const ONE_FILE: &str = "copewright.html";
/// The most that it should weigh.
pub const ONE_FILE_AIM: usize = 700_000;

/// What goes into the file.
struct Parts {
    /// The page as Trunk left it.
    page: String,
    style: String,
    icon: Vec<u8>,
    /// The workshop's script and program.
    glue: String,
    program: Vec<u8>,
    /// What the frame at the page's end shows.
    about: String,
}

/// Writes the file beside the site that it is made of.
pub fn write(dist: &Path, page: &str, about: &str) -> Result<()> {
    let read = |name: &str| {
        let path = dist.join(name.trim_start_matches("./"));
        fs::read(&path).with_context(|| format!("reading {}", path.display()))
    };
    let links = tags(page, "link");
    let of_kind = |kind: &str| -> Vec<&str> {
        let links = links.iter();
        links
            .filter(|link| attribute(link, "rel") == Some(kind))
            .filter_map(|link| attribute(link, "href"))
            .collect()
    };
    let mut style = String::new();
    for sheet in of_kind("stylesheet") {
        style += &String::from_utf8(read(sheet)?)?;
    }
    let icon = of_kind("icon");
    let icon = read(icon.first().context("the page has no icon")?)?;
    let loader = tags(page, "body")
        .first()
        .and_then(|body| attribute(body, "data-workshop"))
        .context("the page names no workshop")?;
    let workshop = loader.strip_suffix("_loader.js");
    let workshop = workshop.with_context(|| format!("`{loader}` is no loader of Trunk's"))?;
    let parts = Parts {
        page: page.to_owned(),
        style,
        icon,
        glue: String::from_utf8(read(&format!("{workshop}.js"))?)?,
        program: read(&format!("{workshop}_bg.wasm"))?,
        about: about.to_owned(),
    };
    fs::write(
        dist.join(ONE_FILE),
        parts.assembled(&own("one_file.js")?, |script| minified(script, Kind::Alone))?,
    )
    .with_context(|| format!("writing {ONE_FILE}"))
}

impl Parts {
    /// The file's text; `smaller` makes its script so.
    fn assembled(
        &self,
        starter: &str,
        smaller: impl FnOnce(&str) -> Result<String>,
    ) -> Result<String> {
        let script = smaller(&[&*plain_script(&self.glue)?, starter].concat())?;
        // The end of a script or style is found without regard to strings and comments in it.
        for (what, text) in [("script", &script), ("style", &self.style)] {
            if text.contains("</") || text.contains("<!--") || text.contains('\r') {
                bail!("the {what} of the workshop cannot stand in a page as it is");
            }
        }
        let (head, _) = self
            .page
            .split_once("<link")
            .context("the page has no links")?;
        let (charset, about) = head
            .split_once("<title>")
            .context("the page has no title")?;
        let (_, body) = self
            .page
            .split_once("<body")
            .and_then(|(_, rest)| rest.split_once('>'))
            .context("the page has no body")?;
        let (body, _) = body.split_once("</body>").context("the body has no end")?;
        // There is no other file to frame.
        let body = framed_here(body)?;
        let policy = policy::tag(
            &format!("'{}'", digest(script.as_bytes())),
            &format!(
                "style-src '{}'; img-src data:; worker-src blob:",
                digest(self.style.as_bytes())
            ),
        );
        let icon = STANDARD.encode(&self.icon);
        let about_packed = lettered(&packed(self.about.as_bytes())?);
        let packed = lettered(&packed(&self.program)?);
        Ok(format!(
            "{charset}{policy}<title>{about}\
             <link href=data:image/svg+xml;base64,{icon} rel=icon>\
             <style>{style}</style></head><body>{body}\
             <script id=about-packed type=text/plain>{about_packed}</script>\
             <script id=packed type=text/plain>{packed}</script>\
             <script>{script}</script></body></html>\n",
            style = self.style,
        ))
    }
}

/// The page's body with room for what its frame shows in the place of the frame.
fn framed_here(body: &str) -> Result<String> {
    let frame = tags(body, "iframe");
    let [frame] = frame.as_slice() else {
        bail!("the page should have one frame, and has {}", frame.len());
    };
    let room = "<div></div>";
    Ok(body.replace(frame, room).replace("</iframe>", ""))
}

/// The length as four bytes, lowest first, then the bytes packed by LZMA without its header: four
/// bits of literal context, none of position.
fn packed(bytes: &[u8]) -> Result<Vec<u8>> {
    let length = u32::try_from(bytes.len()).context("the program is too long")?;
    let mut options = LzmaOptions::new_preset(9)?;
    options
        .dict_size(1 << 24)
        .literal_context_bits(4)
        .literal_position_bits(0)
        .position_bits(0)
        .nice_len(273);
    let mut encoder = XzEncoder::new_stream(Vec::new(), Stream::new_lzma_encoder(&options)?);
    encoder.write_all(bytes)?;
    let packed = encoder.finish()?;
    // Properties, size of the dictionary, length.
    let (_, packed) = packed
        .split_at_checked(13)
        .context("LZMA wrote no header")?;
    Ok([&length.to_le_bytes()[..], packed].concat())
}

/// Bytes as letters of seven bits each, highest bit first; the last letter is filled with zeros.
/// A seventh smaller than base64. Letters that a page does not keep as they are, or that could end
/// the script they stand in, are written as those 128 further on, which take two bytes: the bits
/// are the letter's lowest seven either way.
fn lettered(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len() * 8 / 7);
    let mut put = |bits: u32| {
        let bits = (bits & 0x7f) as u8;
        text.push(char::from(match bits {
            b'\0' | b'\r' | b'<' => bits | 0x80,
            _ => bits,
        }));
    };
    let (mut bits, mut count) = (0_u32, 0);
    for byte in bytes {
        bits = (bits << 8) | u32::from(*byte);
        count += 8;
        while count >= 7 {
            count -= 7;
            put(bits >> count);
        }
        bits &= (1 << count) - 1;
    }
    if count > 0 {
        put(bits << (7 - count));
    }
    text
}

/// The workshop's script as one that is no module: a worker that is one does not start from a file.
fn plain_script(glue: &str) -> Result<String> {
    let (glue, exports) = glue
        .rsplit_once("export {")
        .context("the workshop's script exports nothing")?;
    if !exports.contains("__wbg_init as default") || exports.lines().count() > 1 {
        bail!("the workshop's script does not end as wasm-bindgen's do: export {{{exports}");
    }
    // Only for finding the program, which is here already.
    let glue = glue.replace("import.meta.url", "location.href");
    let glue = format!("\n{glue}").replace("\nexport ", "\n");
    if ["\nimport ", "import(", "import."]
        .iter()
        .any(|word| glue.contains(word))
    {
        bail!("the workshop's script needs others, which cannot stand in one file");
    }
    Ok(glue)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::{inline_scripts, without_comments};
    use liblzma::write::XzDecoder;

    fn parts() -> Parts {
        Parts {
            page: "<!doctype html><html lang=en><meta charset=utf-8><title>T</title>\
                   <meta content=x name=description><link href=./a.css rel=stylesheet>\
                   <script type=module>import init from './b.js'</script></head>\
                   <body data-workshop=./w_loader.js><p id=loading>Loading</p>\
                   <iframe data-src=./about.html></iframe></body></html>"
                .to_owned(),
            style: "p{color:red}".to_owned(),
            icon: b"<svg/>".to_vec(),
            glue:
                "export class B {}\nconst a = import.meta.url;\nexport { __wbg_init as default };\n"
                    .to_owned(),
            program: vec![0; 5000],
            about: "About. ".repeat(200),
        }
    }

    #[test]
    fn nothing_is_left_to_load_and_the_policy_fits() -> Result<()> {
        let smaller = |script: &str| Ok(without_comments(script));
        let file = parts().assembled("// Starts.\nrun(a);\n", smaller)?;
        assert_eq!(
            inline_scripts(&file),
            ["class B {}\nconst a = location.href;\nrun(a);\n"]
        );
        let script = digest(b"class B {}\nconst a = location.href;\nrun(a);\n");
        assert!(
            file.contains(&format!("script-src '{script}' 'wasm-unsafe-eval';")),
            "{file}"
        );
        let style = digest(b"p{color:red}");
        assert!(file.contains(&format!("style-src '{style}';")), "{file}");
        assert!(!file.contains("'self'"), "{file}");
        for gone in [" src=", "href=./", "import ", "data-workshop", "iframe"] {
            assert!(!file.contains(gone), "{gone}: {file}");
        }
        for kept in [
            "<meta content=x name=description>",
            "<p id=loading>Loading</p><div></div>",
        ] {
            assert!(file.contains(kept), "{kept}: {file}");
        }
        assert!(file.len() < 1500, "the program is packed: {}", file.len());
        Ok(())
    }

    #[test]
    fn the_program_is_packed_as_the_page_expects() -> Result<()> {
        let program: Vec<u8> = (0..100_000_u32)
            .map(|i| (i.wrapping_mul(i) >> 7) as u8)
            .collect();
        let packed = packed(&program)?;
        assert!(packed.len() < program.len());
        let (length, stream) = packed.split_at(4);
        assert_eq!(length, 100_000_u32.to_le_bytes());
        // The header of the format (LZMA specification, 2015): (position bits × 5 + literal
        // position bits) × 9 + literal context bits, size of the dictionary, length.
        let header = [&[4][..], &(1_u32 << 24).to_le_bytes(), length, &[0; 4]].concat();
        let mut back = Vec::new();
        let mut decoder =
            XzDecoder::new_stream(&mut back, Stream::new_lzma_decoder(u64::from(u32::MAX))?);
        decoder.write_all(&[&header, stream].concat())?;
        drop(decoder);
        assert_eq!(back, program);
        Ok(())
    }

    #[test]
    fn letters_hold_every_byte_and_nothing_that_a_page_changes() {
        // All bytes, at every place among the letters.
        let bytes: Vec<u8> = (0..7_u8).flat_map(|_| 0..=255).collect();
        let text = lettered(&bytes);
        assert!(!text.contains(['\0', '\r', '<']));
        let bits: Vec<u32> = text
            .chars()
            .flat_map(|letter| (0..7).rev().map(move |at| (u32::from(letter) >> at) & 1))
            .collect();
        let back: Vec<u8> = bits
            .chunks_exact(8)
            .map(|byte| byte.iter().fold(0, |byte, bit| byte * 2 + *bit) as u8)
            .collect();
        assert_eq!(back[..bytes.len()], bytes);
        assert_eq!(lettered(&[0b1010_1010]), "\u{55}\u{80}");
    }

    #[test]
    fn a_script_that_cannot_stand_in_a_page_is_refused() {
        let mut parts = parts();
        let same = |script: &str| Ok(script.to_owned());
        for glue in ["const a = '</script>';", "import b from './b.js';"] {
            parts.glue = format!("{glue}\nexport {{ __wbg_init as default }};\n");
            assert!(parts.assembled("run(a);", same).is_err(), "{glue}");
        }
        parts.glue = "const a = 1;".to_owned();
        assert!(parts.assembled("run(a);", same).is_err());
    }
}
