//! A first plan, so that there always is one where nothing limits the overs.

use super::polish::{Found, Wanted, polished};
use super::task::{Alike, SizeTask, Task};

/// A plan with every lot on one form, the largest on the first; the stations that are left go one by one to the lot that wants the
/// longest run of its form. None where that keeps no limits of overs.
pub(super) fn first_plan(task: &Task) -> Option<Found> {
    let lots: Vec<Wanted> = task.sizes.iter().flat_map(|size| shared_out(size, task.forms())).collect();
    polished(task, &lots, &vec![task.longest; task.forms()])
}

/// Lots of one size on the forms.
fn shared_out(size: &SizeTask, forms: usize) -> Vec<Wanted> {
    let mut lots = size.lots.iter().flat_map(|alike| alike.lots.iter().map(move |lot| (alike, *lot)));
    let mut shared = Vec::new();
    for (form, stations) in (0..forms).zip(&size.stations) {
        let here = usize::try_from(*stations).unwrap_or(0);
        let mut on_form: Vec<(u64, Wanted)> =
            lots.by_ref().take(here).map(|(alike, lot)| (1, wanted(alike, lot))).collect();
        for _ in on_form.len()..here {
            if let Some((number, _)) = on_form.iter_mut().max_by_key(|(number, lot)| lot.least.div_ceil(*number)) {
                *number += 1;
            }
        }
        shared.extend(on_form.into_iter().map(|(number, lot)| {
            let stations = (0..forms).map(|at| if at == form { number } else { 0 }).collect();
            Wanted { stations, ..lot }
        }));
    }
    shared
}

fn wanted(alike: &Alike, lot: usize) -> Wanted {
    let Alike { least, quantity, most, .. } = *alike;
    Wanted { lot, least, quantity, most, stations: Vec::new() }
}
