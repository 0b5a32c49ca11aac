//! A WebAssembly module, as far as finishing a build has to look into it.

/// A module in its sections.
pub struct Module<'a> {
    head: &'a [u8],
    sections: Vec<(u8, &'a [u8])>,
}

const CUSTOM: u8 = 0;
const IMPORTS: u8 = 2;
const CODE: u8 = 10;
/// An import that is a function; the bindings make no others.
const FUNCTION: u8 = 0;
/// The part of the section `name` that names functions.
const FUNCTION_NAMES: u8 = 1;

/// A function that is imported.
pub struct Import<'a> {
    /// The name of what it is a part of.
    pub from: &'a str,
    /// Its own name.
    pub name: &'a str,
    kind: u32,
}

impl<'a> Module<'a> {
    /// Reads a module; nothing when it is none.
    pub fn read(bytes: &'a [u8]) -> Option<Self> {
        let (head, mut rest) = bytes.split_at_checked(8)?;
        let mut sections = Vec::new();
        while !rest.is_empty() {
            let id = byte(&mut rest)?;
            sections.push((id, counted(&mut rest)?));
        }
        head.starts_with(b"\0asm").then_some(Module { head, sections })
    }

    /// What it imports.
    pub fn imports(&self) -> Option<Vec<Import<'a>>> {
        let mut rest = self.section(IMPORTS)?;
        (0..number(&mut rest)?)
            .map(|_| {
                let [from, name] = [counted(&mut rest)?, counted(&mut rest)?].map(|name| str::from_utf8(name).ok());
                let kind = (byte(&mut rest)? == FUNCTION).then_some(number(&mut rest)?)?;
                Some(Import { from: from?, name: name?, kind })
            })
            .collect()
    }

    /// The code of its own functions.
    pub fn functions(&self) -> Option<Vec<&'a [u8]>> {
        let mut rest = self.section(CODE)?;
        (0..number(&mut rest)?).map(|_| counted(&mut rest)).collect()
    }

    /// The module with its imports under other names: that of all they are a
    /// part of, and their numbers.
    pub fn with_numbered_imports(&self, from: &str, imports: &[Import]) -> Vec<u8> {
        let mut list = as_number(imports.len());
        for (at, import) in imports.iter().enumerate() {
            list.extend(as_counted(from.as_bytes()));
            list.extend(as_counted(at.to_string().as_bytes()));
            list.push(FUNCTION);
            list.extend(as_number(import.kind as usize));
        }
        let sections = self.sections.iter().map(|&(id, content)| (id, if id == IMPORTS { &list } else { content }));
        self.written(sections)
    }

    /// The module with a name for each of its own functions.
    pub fn with_names(&self, imported: usize, names: &[String]) -> Vec<u8> {
        let mut list = as_number(names.len());
        for (at, name) in names.iter().enumerate() {
            list.extend(as_number(imported + at));
            list.extend(as_counted(name.as_bytes()));
        }
        let mut section = as_counted(b"name");
        section.push(FUNCTION_NAMES);
        section.extend(as_counted(&list));
        self.written(self.sections.iter().copied().chain([(CUSTOM, section.as_slice())]))
    }

    fn section(&self, wanted: u8) -> Option<&'a [u8]> {
        self.sections.iter().find(|(id, _)| *id == wanted).map(|(_, content)| *content)
    }

    fn written<'s>(&self, sections: impl Iterator<Item = (u8, &'s [u8])>) -> Vec<u8> {
        let mut written = self.head.to_vec();
        for (id, content) in sections {
            written.push(id);
            written.extend(as_counted(content));
        }
        written
    }
}

fn byte(rest: &mut &[u8]) -> Option<u8> {
    rest.split_off_first().copied()
}

/// Seven bits at a time, the lowest first.
fn number(rest: &mut &[u8]) -> Option<u32> {
    let mut value = 0;
    for shift in (0..32).step_by(7) {
        let seven = byte(rest)?;
        value |= u32::from(seven & 0x7f) << shift;
        if seven < 0x80 {
            return Some(value);
        }
    }
    None
}

/// Bytes after their number.
fn counted<'a>(rest: &mut &'a [u8]) -> Option<&'a [u8]> {
    let length = number(rest)? as usize;
    rest.split_off(..length)
}

fn as_number(mut value: usize) -> Vec<u8> {
    let mut written = Vec::new();
    while value >= 0x80 {
        written.push(value as u8 | 0x80);
        value >>= 7;
    }
    written.push(value as u8);
    written
}

fn as_counted(bytes: &[u8]) -> Vec<u8> {
    [&as_number(bytes.len()), bytes].concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of one import `a.f` and one function that does nothing, written by hand
    /// after the binary format of the WebAssembly specification.
    const SMALL: &[u8] =
        b"\0asm\x01\0\0\0\x01\x04\x01\x60\0\0\x02\x07\x01\x01a\x01f\0\0\x03\x02\x01\0\x0a\x04\x01\x02\0\x0b";

    #[test]
    fn a_module_is_taken_apart_and_put_together_again() {
        let module = Module::read(SMALL).expect("a module");
        let imports = module.imports().expect("imports");
        let names: Vec<_> = imports.iter().map(|import| (import.from, import.name)).collect();
        assert_eq!(names, [("a", "f")]);
        assert_eq!(module.functions(), Some(vec![&b"\0\x0b"[..]]));

        let numbered = module.with_numbered_imports("b", &imports);
        assert_eq!(numbered.len(), SMALL.len());
        let imports = Module::read(&numbered).and_then(|module| module.imports()).expect("imports");
        assert_eq!((imports[0].from, imports[0].name), ("b", "0"));

        let named = module.with_names(1, &["g".into()]);
        assert_eq!(named.strip_prefix(SMALL), Some(&b"\0\x0b\x04name\x01\x04\x01\x01\x01g"[..]));
        assert!(Module::read(&SMALL[..20]).is_none() && Module::read(b"no module").is_none());
    }

    #[test]
    fn numbers_come_back() {
        for value in [0, 127, 128, 300, 624_485, u32::MAX] {
            assert_eq!(number(&mut as_number(value as usize).as_slice()), Some(value));
        }
        // Seven bits at a time: 0x26 << 14 | 0x0e << 7 | 0x65.
        assert_eq!(as_number(624_485), [0xe5, 0x8e, 0x26]);
    }
}
