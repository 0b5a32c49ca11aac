//! What a template is written in: `view!` writes it, the page reads it
//! (`src/app/markup`).
//!
//! A template is a row of words, each begun by one of these letters, which occur
//! in no name and no text of a view. Those from [`VIEW`] on leave a place open
//! for something that the program puts there, in the same order.

/// Opens an element of a page: its name.
pub const HTML: u8 = 0x01;
/// Opens an element of a drawing: its name.
pub const SVG: u8 = 0x02;
/// Closes what was opened last.
pub const CLOSE: u8 = 0x03;
/// Text.
pub const TEXT: u8 = 0x04;
/// An attribute: its name.
pub const NAME: u8 = 0x05;
/// The value of the attribute named just before.
pub const IS: u8 = 0x06;

/// Open: another view.
pub const VIEW: u8 = 0x0e;
/// Open: the value of an attribute with this name.
pub const ATTRIBUTE: u8 = 0x0f;
/// Open: the value of a property with this name.
pub const PROPERTY: u8 = 0x10;
/// Open: whether it has the class of this name.
pub const CLASS: u8 = 0x11;
/// Open: the value of a style with this name.
pub const STYLE: u8 = 0x12;
/// Open: what is inside, as markup.
pub const INSIDE: u8 = 0x13;
/// Open: what happens at the event of this name.
pub const EVENT: u8 = 0x14;
/// Open: who wants to know the element.
pub const REFERENCE: u8 = 0x15;
/// Open: more attributes.
pub const MORE: u8 = 0x16;

/// Whether `byte` is a letter of templates.
pub fn is_letter(byte: u8) -> bool {
    matches!(byte, HTML..=IS | VIEW..=MORE)
}
