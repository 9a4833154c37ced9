use lopdf::{Dictionary, Object, text_string};

use super::copy::Copier;

/// The layers that were copied, in the state in which they print: one configuration with a name and no usage events, as PDF/X-4 asks
/// (ISO 15930-7, restated). `None` where nothing that is drawn hangs on a layer.
pub(super) fn properties(copiers: &[Copier]) -> Option<Dictionary> {
    let mut all: Vec<Object> = Vec::new();
    let mut off: Vec<Object> = Vec::new();
    for copier in copiers {
        let layers = copier.art().layers();
        let here = layers.iter().filter_map(|(old, _, prints)| Some((copier.copied(old)?, prints)));
        for (id, prints) in here {
            let layer = Object::Reference(id);
            if !prints {
                off.push(layer.clone());
            }
            all.push(layer);
        }
    }
    if all.is_empty() {
        return None;
    }
    let mut config = Dictionary::new();
    config.set("Name", text_string("As it prints"));
    config.set("BaseState", Object::Name(b"ON".to_vec()));
    config.set("OFF", Object::Array(off));
    config.set("Order", Object::Array(all.clone()));
    let mut properties = Dictionary::new();
    properties.set("OCGs", Object::Array(all));
    properties.set("D", config);
    Some(properties)
}
