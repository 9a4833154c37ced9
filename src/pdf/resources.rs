use lopdf::{Dictionary, Object, ObjectId};

/// The named resources of one page or form, named by first use: `F1`, `C1`, `G1`, `X1`, `P1`.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Resources {
    fonts: Vec<ObjectId>,
    spaces: Vec<ObjectId>,
    states: Vec<ObjectId>,
    xobjects: Vec<ObjectId>,
    properties: Vec<ObjectId>,
}

fn named(list: &mut Vec<ObjectId>, letter: char, id: ObjectId) -> String {
    let at = list.iter().position(|have| *have == id).unwrap_or_else(|| {
        list.push(id);
        list.len() - 1
    });
    format!("{letter}{}", at + 1)
}

impl Resources {
    /// None yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// The name of a font here.
    pub fn font(&mut self, id: ObjectId) -> String {
        named(&mut self.fonts, 'F', id)
    }

    /// The name of a colour space here.
    pub fn space(&mut self, id: ObjectId) -> String {
        named(&mut self.spaces, 'C', id)
    }

    /// The name of a graphics state here.
    pub fn state(&mut self, id: ObjectId) -> String {
        named(&mut self.states, 'G', id)
    }

    /// The name of a form or picture here.
    pub fn xobject(&mut self, id: ObjectId) -> String {
        named(&mut self.xobjects, 'X', id)
    }

    /// The name of a property list (an optional-content group) here.
    pub fn property(&mut self, id: ObjectId) -> String {
        named(&mut self.properties, 'P', id)
    }

    /// The resource dictionary (7.8.3).
    pub fn dictionary(&self) -> Dictionary {
        let mut all = Dictionary::new();
        let kinds = [
            ("Font", 'F', &self.fonts),
            ("ColorSpace", 'C', &self.spaces),
            ("ExtGState", 'G', &self.states),
            ("XObject", 'X', &self.xobjects),
            ("Properties", 'P', &self.properties),
        ];
        for (kind, letter, list) in kinds {
            if list.is_empty() {
                continue;
            }
            let mut names = Dictionary::new();
            for (n, id) in list.iter().enumerate() {
                names.set(format!("{letter}{}", n + 1), Object::Reference(*id));
            }
            all.set(kind, names);
        }
        all
    }
}
