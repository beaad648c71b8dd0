//! Whether a picture's file is whole, which its decoder may not ask.

use std::io::Cursor;

use image::ImageFormat;
use tiff::decoder::Decoder;
use tiff::tags::Tag;

use super::kind::Format;

/// Whether the file comes to its end; formats whose decoders ask for the last byte are taken as whole.
pub(super) fn ends(bytes: &[u8], format: Format) -> bool {
    let Format::Common(format) = format else { return boxes_end(bytes).is_some() };
    match format {
        ImageFormat::Jpeg => jpeg_ends(bytes),
        ImageFormat::Png => png_ends(bytes).is_some(),
        ImageFormat::Gif => gif_ends(bytes).is_some(),
        ImageFormat::WebP => webp_ends(bytes),
        ImageFormat::Tiff => tiff_ends(bytes).is_some_and(|ends| ends),
        _ => true,
    }
}

/// From box to box of a HEIC file to the whole of the last (ISO/IEC 14496-12, 4.2).
fn boxes_end(bytes: &[u8]) -> Option<()> {
    let mut rest = bytes;
    while !rest.is_empty() {
        let (size, after) = rest.split_first_chunk::<4>()?;
        let size = match u32::from_be_bytes(*size) {
            0 => return Some(()),
            1 => u64::from_be_bytes(*after.get(4..)?.first_chunk::<8>()?),
            size => u64::from(size),
        };
        rest = rest.get(usize::try_from(size).ok().filter(|&size| size >= 8)?..)?;
    }
    Some(())
}

/// Whether the scan of a JPEG comes to its end marker (ITU-T T.81, B.1).
fn jpeg_ends(bytes: &[u8]) -> bool {
    let mut rest = bytes.get(2..).unwrap_or_default();
    while let [0xff, marker, after @ ..] = rest {
        rest = match (*marker, after) {
            (0xff, _) => rest.get(1..).unwrap_or_default(),
            (0xda, _) => return after.windows(2).any(|pair| pair == [0xff, 0xd9]),
            (0x01 | 0xd0..=0xd7, _) => after,
            (_, [high, low, ..]) => {
                let length = usize::from(u16::from_be_bytes([*high, *low]));
                after.get(length.max(2)..).unwrap_or_default()
            }
            _ => return false,
        };
    }
    !rest.is_empty()
}

/// From chunk to chunk of a PNG to the whole of the last (ISO/IEC 15948, 5.3).
fn png_ends(bytes: &[u8]) -> Option<()> {
    let mut rest = bytes.get(8..)?;
    loop {
        let (length, after) = rest.split_first_chunk::<4>()?;
        // Name, data and checksum.
        let whole = usize::try_from(u32::from_be_bytes(*length)).ok()?.checked_add(8)?;
        let chunk = after.get(..whole)?;
        if chunk.starts_with(b"IEND") {
            return Some(());
        }
        rest = after.get(whole..)?;
    }
}

/// From block to block of a GIF to its trailer (GIF89a, 17 to 27).
fn gif_ends(bytes: &[u8]) -> Option<()> {
    let table = |flags: u8| if flags & 0x80 == 0 { 0 } else { 3 << ((flags & 7) + 1) };
    let mut rest = bytes.get(13 + table(*bytes.get(10)?)..)?;
    loop {
        let data = match rest {
            [0x3b, ..] => return Some(()),
            [0x21, _, data @ ..] => data,
            // Its descriptor, its colours, and the least size of its codes.
            [0x2c, image @ ..] => image.get(10 + table(*image.get(8)?)..)?,
            _ => return None,
        };
        rest = data;
        loop {
            let (&length, after) = rest.split_first()?;
            rest = after.get(usize::from(length)..)?;
            if length == 0 {
                break;
            }
        }
    }
}

/// Whether a WebP is as long as its first chunk says (RFC 9649, 2.4).
fn webp_ends(bytes: &[u8]) -> bool {
    let length = bytes.get(4..).and_then(|rest| rest.first_chunk::<4>()).map(|length| u32::from_le_bytes(*length));
    length.is_some_and(|length| bytes.len() as u64 >= u64::from(length) + 8)
}

/// Whether every strip and tile of every picture in a TIFF lies within the file (TIFF 6.0, 3 and 15).
fn tiff_ends(bytes: &[u8]) -> Option<bool> {
    let mut decoder = Decoder::new(Cursor::new(bytes)).ok()?;
    let pairs = [(Tag::StripOffsets, Tag::StripByteCounts), (Tag::TileOffsets, Tag::TileByteCounts)];
    loop {
        for (offsets, lengths) in pairs {
            let offsets = decoder.find_tag_unsigned_vec::<u64>(offsets).ok()?.unwrap_or_default();
            let lengths = decoder.find_tag_unsigned_vec::<u64>(lengths).ok()?.unwrap_or_default();
            let within = |(offset, length): (u64, u64)| offset.saturating_add(length) <= bytes.len() as u64;
            if !offsets.into_iter().zip(lengths).all(within) {
                return Some(false);
            }
        }
        if !decoder.more_images() {
            return Some(true);
        }
        decoder.next_image().ok()?;
    }
}
