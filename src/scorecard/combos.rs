use super::{Combo, Tee};

/// What is wrong with a hole of a combination. Holes count from 1.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Stray {
    /// No tee has the name that stands there.
    NoTee {
        /// The hole.
        hole: usize,
        /// The name.
        name: String,
    },
    /// No tee is named there; on a card that is read from its print, no tee of the card has that length.
    Unnamed {
        /// The hole.
        hole: usize,
        /// The length that stands there.
        length: Option<i64>,
    },
    /// The length is not the one of the tee that is named.
    OtherLength {
        /// The hole.
        hole: usize,
        /// The tee.
        tee: String,
        /// The length that stands there.
        length: i64,
        /// The tee's.
        of_tee: i64,
    },
    /// There are so many tees named for the holes.
    Count(usize),
}

/// The length of each hole of a combination: that of the tee it plays from.
pub fn derived(combo: &Combo, tees: &[Tee]) -> Vec<Option<i64>> {
    let length = |(n, name): (usize, &String)| named(tees, name)?.lengths.get(n).copied().flatten();
    combo.tees.iter().enumerate().map(length).collect()
}

fn named<'t>(tees: &'t [Tee], name: &str) -> Option<&'t Tee> {
    tees.iter().find(|tee| tee.name == name)
}

/// Every hole of a combination that does not lead to a tee of the card.
pub fn strays(combo: &Combo, tees: &[Tee], holes: usize) -> Vec<Stray> {
    let mut strays = Vec::new();
    if combo.tees.len() != holes {
        strays.push(Stray::Count(combo.tees.len()));
    }
    for (n, name) in combo.tees.iter().enumerate().take(holes) {
        let hole = n + 1;
        let length = combo.lengths.get(n).copied().flatten();
        match named(tees, name) {
            None if name.trim().is_empty() => strays.push(Stray::Unnamed { hole, length }),
            None => strays.push(Stray::NoTee { hole, name: name.clone() }),
            Some(tee) => {
                let of_tee = tee.lengths.get(n).copied().flatten();
                if let Some((length, of_tee)) = length.zip(of_tee).filter(|(a, b)| a != b) {
                    strays.push(Stray::OtherLength { hole, tee: name.clone(), length, of_tee });
                }
            }
        }
    }
    strays
}
