//! A link as a QR code (ISO/IEC 18004), drawn for a second phone's camera.

use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, Version};

/// Light modules on every side, as the standard asks.
pub const QUIET: i32 = 4;

/// Largest code drawn: 101 modules, with their quiet zone 109, which are 3 px
/// each across a screen of 360 px, about half a millimetre. Smaller ones are
/// hard to scan by hand from another screen (common practice, no source).
pub const LARGEST: u8 = 21;

/// A drawn code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Qr {
    /// As markup; a unit is a module.
    pub svg: String,
    /// Modules across, quiet zone included.
    pub across: i32,
}

/// The code for an address, and behind its `#` a link of capitals, digits and
/// `-`; none where it takes more than [`LARGEST`].
///
/// The least error correction will do on a screen, which nothing soils; what
/// room the version leaves goes to more.
pub fn code(address: &str, link: &str) -> Option<QrCode> {
    if !QrSegment::is_alphanumeric(link) {
        return None;
    }
    let segments = [
        QrSegment::make_bytes(format!("{address}#").as_bytes()),
        QrSegment::make_alphanumeric(link),
    ];
    QrCode::encode_segments_advanced(
        &segments,
        QrCodeEcc::Low,
        Version::MIN,
        Version::new(LARGEST),
        None::<Mask>,
        true,
    )
    .ok()
}

/// The drawing of a code.
pub fn drawing(code: &QrCode) -> Qr {
    let across = code.size() + 2 * QUIET;
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let dark = (x..code.size()).take_while(|x| code.get_module(*x, y));
            let run = dark.count() as i32;
            if run > 0 {
                path.push_str(&format!("M{} {}h{run}v1h-{run}z", x + QUIET, y + QUIET));
            }
            x += run.max(1);
        }
    }
    let svg = format!(
        "<svg viewBox=\"0 0 {across} {across}\"><rect width=\"{across}\" height=\"{across}\"/>\
         <path d=\"{path}\"/></svg>"
    );
    Qr { svg, across }
}
