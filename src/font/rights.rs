use std::fmt;

use rustybuzz::ttf_parser;

/// What a font says about being embedded (OpenType specification, OS/2 table, `fsType`).
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Rights {
    /// May be embedded and installed (0x0000).
    Installable,
    /// May be embedded where the document can be edited (0x0008).
    Editable,
    /// May be embedded to view and print (0x0004).
    PreviewAndPrint,
    /// May not be embedded without the maker's leave (0x0002).
    Restricted,
    /// The font does not say, or contradicts itself.
    Unclear,
}

impl Rights {
    /// Reads a font program (TrueType or OpenType).
    pub fn of_program(program: &[u8]) -> Self {
        ttf_parser::Face::parse(program, 0).map_or(Self::Unclear, |face| Self::of_face(&face))
    }

    pub(super) fn of_face(face: &ttf_parser::Face<'_>) -> Self {
        match face.permissions() {
            Some(ttf_parser::Permissions::Installable) => Self::Installable,
            Some(ttf_parser::Permissions::Editable) => Self::Editable,
            Some(ttf_parser::Permissions::PreviewAndPrint) => Self::PreviewAndPrint,
            Some(ttf_parser::Permissions::Restricted) => Self::Restricted,
            None => Self::Unclear,
        }
    }

    /// Whether a print file may carry the font.
    pub const fn allow_printing(self) -> bool {
        matches!(self, Self::Installable | Self::Editable | Self::PreviewAndPrint)
    }
}

/// `installable`, `editable`, `preview & print`, `restricted`, `unclear`.
impl fmt::Display for Rights {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Installable => "installable",
            Self::Editable => "editable",
            Self::PreviewAndPrint => "preview & print",
            Self::Restricted => "restricted",
            Self::Unclear => "unclear",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::font::OpenFont;

    /// The program with another `fsType`: the field stands 8 bytes into the OS/2 table (OpenType specification).
    fn with_fs_type(value: u16) -> Vec<u8> {
        let mut program = OpenFont::Narrow.program().to_vec();
        let tables = usize::from(u16::from_be_bytes([program[4], program[5]]));
        let record = (0..tables).map(|n| 12 + 16 * n).find(|at| &program[*at..at + 4] == b"OS/2").unwrap();
        let at = u32::from_be_bytes(program[record + 8..record + 12].try_into().unwrap()) as usize + 8;
        program[at..at + 2].copy_from_slice(&value.to_be_bytes());
        program
    }

    #[test]
    fn the_bits_of_fs_type_are_told_in_words() {
        for (bits, words, may) in [
            (0, "installable", true),
            (2, "restricted", false),
            (4, "preview & print", true),
            (8, "editable", true),
            (0x108, "editable", true),
            (6, "unclear", false),
        ] {
            let rights = Rights::of_program(&with_fs_type(bits));
            assert_eq!((rights.to_string().as_str(), rights.allow_printing()), (words, may), "{bits:#x}");
        }
        assert_eq!(Rights::of_program(b"no font"), Rights::Unclear);
    }
}
