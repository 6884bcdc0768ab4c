//! Packing: style, glue and module into the one page, and the limits on its size.

use std::fmt;
use std::io::Write;

use base64::Engine;
use flate2::Compression;
use flate2::write::GzEncoder;
use lzma_rust2::{LzmaOptions, LzmaWriter};

/// The largest page, in bytes as it lies on disk.
const RAW_LIMIT: usize = 1_200_000;
/// The largest page, in bytes as a server or a mail would compress it.
const GZIPPED_LIMIT: usize = 830_000;

/// What a page is made of.
pub struct Parts<'a> {
    /// The template, with the slots `{{style}}`, `{{glue}}` and `{{module}}`, each once.
    pub template: &'a str,
    /// Style sheets.
    pub style: &'a str,
    /// Script that starts the module.
    pub glue: &'a str,
    /// The WebAssembly module.
    pub module: &'a [u8],
}

/// The page as one text. The same parts always give the same bytes.
pub fn page(parts: &Parts) -> Result<String, String> {
    if parts.style.to_ascii_lowercase().contains("</style") {
        return Err("a style sheet contains </style, which would end it in the page".into());
    }
    let module = base64::engine::general_purpose::STANDARD.encode(squeeze(parts.module)?);
    let fills = [("{{style}}", parts.style), ("{{module}}", module.as_str()), ("{{glue}}", &script(parts.glue))];

    // One pass over the template, so that a slot's name inside a filling stays as it is.
    let mut page = String::new();
    let mut rest = parts.template;
    for (slot, filling) in fills {
        let (before, after) =
            rest.split_once(slot).ok_or_else(|| format!("index.html needs {slot} once, after the slots before it"))?;
        page.push_str(before);
        page.push_str(filling);
        rest = after;
    }
    if fills.iter().any(|(slot, _)| rest.contains(slot)) {
        return Err("index.html has a slot twice".into());
    }
    page.push_str(rest);
    Ok(page)
}

/// Script text that an HTML parser reads to its end: `</script` and `<!--` would change the parser's state.
/// In script both occur only inside texts and patterns, where the backslash changes nothing.
fn script(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('<') {
        let (before, tail) = rest.split_at(at);
        safe.push_str(before);
        safe.push('<');
        rest = &tail[1..];
        let ends = rest.get(..7).is_some_and(|s| s.eq_ignore_ascii_case("/script"));
        if ends || rest.starts_with("!--") {
            safe.push('\\');
        }
    }
    safe.push_str(rest);
    safe
}

/// Checksum and LZMA stream, as `unpack.js` reads them.
fn squeeze(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let mut crc = flate2::Crc::new();
    crc.update(bytes);
    let packed = crc.sum().to_le_bytes().to_vec();
    let mut options = LzmaOptions::with_preset(9);
    // Code has no alignment that the position would tell anything about; its literals follow the byte before.
    (options.pb, options.lc) = (0, 4);
    // As long as a match can be: packing takes longer, unpacking does not.
    options.nice_len = 273;
    options.dict_size = (bytes.len() as u32).next_power_of_two().max(1 << 16);
    let failed = |e: std::io::Error| format!("packing the module: {e}");
    let mut writer = LzmaWriter::new_use_header(packed, &options, Some(bytes.len() as u64)).map_err(failed)?;
    writer.write_all(bytes).map_err(failed)?;
    writer.finish().map_err(failed)
}

/// Compressed without name or time, so that the bytes depend on the input only.
fn gzip(bytes: &[u8]) -> Vec<u8> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    // Writing to memory does not fail.
    let _ = encoder.write_all(bytes);
    encoder.finish().unwrap_or_default()
}

/// How large a page is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    raw: usize,
    gzipped: usize,
}

impl Size {
    /// Measures a page.
    pub fn of(page: &str) -> Size {
        Size { raw: page.len(), gzipped: gzip(page.as_bytes()).len() }
    }

    /// An error when the page is over one of the limits.
    pub fn check(self) -> Result<(), String> {
        if self.raw <= RAW_LIMIT && self.gzipped <= GZIPPED_LIMIT {
            return Ok(());
        }
        let limit = Size { raw: RAW_LIMIT, gzipped: GZIPPED_LIMIT };
        Err(format!("the page is too large: {self}; allowed {limit}"))
    }
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let kilo = |bytes: usize| bytes as f64 / 1000.0;
        write!(f, "{:.1} kB raw, {:.1} kB gzipped", kilo(self.raw), kilo(self.gzipped))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lzma_rust2::LzmaReader;
    use std::io::Read;

    const TEMPLATE: &str = "<style>{{style}}</style><i>{{module}}</i><script>{{glue}}</script>";

    fn parts<'a>(style: &'a str, glue: &'a str, module: &'a [u8]) -> Parts<'a> {
        Parts { template: TEMPLATE, style, glue, module }
    }

    #[test]
    fn the_module_comes_back_whole() {
        let module: Vec<u8> = (0..5000u32).map(|i| (i * i % 251) as u8).collect();
        let page = page(&parts("", "", &module)).unwrap();
        let text = page.split("<i>").nth(1).unwrap().split("</i>").next();
        let packed = base64::engine::general_purpose::STANDARD.decode(text.unwrap()).unwrap();
        let mut back = Vec::new();
        LzmaReader::new_mem_limit(&packed[4..], u32::MAX, None).unwrap().read_to_end(&mut back).unwrap();
        assert_eq!(back, module);
        // CRC-32 of the nine digits is 0xCBF43926 in the catalogue of parametrised CRC algorithms (MEMORY).
        assert_eq!(squeeze(b"123456789").unwrap()[..4], 0xCBF4_3926_u32.to_le_bytes());
    }

    #[test]
    fn the_same_parts_give_the_same_page() {
        let make = || page(&parts("a{}", "let a = 1;", b"module")).unwrap();
        assert_eq!(make(), make());
    }

    #[test]
    fn script_text_cannot_end_the_script() {
        let page = page(&parts("", "a = '</script>' + '</SCRIPT' + '<!--'", b"")).unwrap();
        assert!(page.ends_with("<script>a = '<\\/script>' + '<\\/SCRIPT' + '<\\!--'</script>"));
    }

    #[test]
    fn a_slot_named_in_a_filling_stays() {
        let page = page(&parts("/* {{glue}} */", "x", b"")).unwrap();
        assert!(page.contains("/* {{glue}} */") && page.contains("<script>x</script>"));
    }

    #[test]
    fn a_template_without_a_slot_or_with_one_twice_is_refused() {
        for template in ["{{style}}{{module}}", "{{style}}{{module}}{{glue}}{{style}}"] {
            let parts = Parts { template, ..parts("", "", b"") };
            assert!(page(&parts).is_err(), "{template}");
        }
        assert!(page(&parts("</STYLE>", "", b"")).is_err());
    }

    #[test]
    fn each_limit_is_kept() {
        let size = |raw, gzipped| Size { raw, gzipped };
        assert!(size(1_200_000, 830_000).check().is_ok());
        assert!(size(1_200_001, 1).check().is_err());
        assert!(size(1, 830_001).check().is_err());
    }
}
