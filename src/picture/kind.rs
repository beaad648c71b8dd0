//! What a file is, told by its first bytes.

use image::ImageFormat;

use super::PictureError;

/// A format that is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Kind {
    pub format: Format,
    pub name: &'static str,
}

/// Who reads it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Format {
    /// `image`.
    Common(ImageFormat),
    /// `picture::heic`.
    Heic,
}

/// The format, or what to do with a file of another.
pub(super) fn kind(bytes: &[u8]) -> Result<Kind, PictureError> {
    if bytes.is_empty() {
        return Err(PictureError::Empty);
    }
    if let Some(kind) = branded(bytes) {
        return kind;
    }
    match image::guess_format(bytes).ok().and_then(readable) {
        Some(kind) => Ok(kind),
        None => Err(other(bytes)),
    }
}

fn readable(format: ImageFormat) -> Option<Kind> {
    let name = match format {
        ImageFormat::Png => "PNG",
        ImageFormat::Jpeg => "JPEG",
        ImageFormat::WebP => "WebP",
        ImageFormat::Tiff => "TIFF",
        ImageFormat::Gif => "GIF",
        ImageFormat::Bmp => "BMP",
        _ => return None,
    };
    Some(Kind { format: Format::Common(format), name })
}

/// ISO 14496-12 files start with a box `ftyp`: its brand, a version, more brands (ISO/IEC 23008-12, 10.2 and B.4).
fn branded(bytes: &[u8]) -> Option<Result<Kind, PictureError>> {
    let (size, rest) = bytes.split_first_chunk::<4>()?;
    let list = rest.strip_prefix(b"ftyp")?;
    let long = usize::try_from(u32::from_be_bytes(*size)).ok()?.saturating_sub(8);
    let list = list.get(..long.clamp(4, 256)).unwrap_or(list);
    let (brands, _) = list.as_chunks::<4>();
    let any = |known: &[&[u8; 4]]| brands.iter().any(|brand| known.contains(&brand));
    Some(if any(&[b"avif", b"avis"]) {
        Err(PictureError::Phone("AVIF format"))
    } else if any(&[b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1"]) {
        Ok(Kind { format: Format::Heic, name: "HEIC" })
    } else {
        Err(PictureError::Other("a film"))
    })
}

/// What a file that is not read might be.
fn other(bytes: &[u8]) -> PictureError {
    let start = bytes.get(..1024).unwrap_or(bytes);
    let has = |word: &str| start.windows(word.len()).any(|part| part.eq_ignore_ascii_case(word.as_bytes()));
    if start.starts_with(b"%PDF") {
        PictureError::Other("a PDF document")
    } else if start.starts_with(b"%!PS") {
        PictureError::Other("a PostScript document")
    } else if start.starts_with(b"PK\x03\x04") {
        PictureError::Other("a packed folder or an office document")
    } else if has("<svg") {
        PictureError::Other("an SVG drawing")
    } else if has("<html") || has("<!doctype") {
        PictureError::Other("a web page")
    } else if is_text(start) {
        PictureError::Other("a text file")
    } else {
        PictureError::Unknown
    }
}

fn is_text(start: &[u8]) -> bool {
    let readable = match std::str::from_utf8(start) {
        Ok(_) => true,
        Err(error) => error.error_len().is_none(),
    };
    readable && start.iter().all(|&byte| byte >= b' ' || b"\t\r\n\x0c".contains(&byte))
}

/// Width and height as a PNG header gives them, even where no more follows.
pub(super) fn png_header(bytes: &[u8]) -> Option<(u32, u32)> {
    let header = bytes.get(12..24)?.strip_prefix(b"IHDR")?;
    let (width, rest) = header.split_first_chunk::<4>()?;
    let (height, _) = rest.split_first_chunk::<4>()?;
    Some((u32::from_be_bytes(*width), u32::from_be_bytes(*height)))
}
