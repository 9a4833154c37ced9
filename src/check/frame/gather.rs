use crate::check::Finding;

/// Tells once what holds for many marks: findings that say the same of the same panel and source become one, whose rectangle
/// holds them all and whose place says how many there are.
pub(crate) fn gather(found: Vec<Finding>) -> Vec<Finding> {
    let mut gathered: Vec<Group> = Vec::new();
    for finding in found {
        match gathered.iter_mut().find(|group| alike(&group.first, &finding)) {
            Some(group) => group.take(&finding),
            None => gathered.push(Group { first: finding, count: 1, one_thing: true }),
        }
    }
    gathered.into_iter().map(Group::told).collect()
}

/// Findings that say the same.
struct Group {
    first: Finding,
    count: i64,
    one_thing: bool,
}

impl Group {
    fn take(&mut self, other: &Finding) {
        self.count += 1;
        let place = &mut self.first.place;
        self.one_thing &= place.what == other.place.what;
        place.rect = match (place.rect, other.place.rect) {
            (Some(a), Some(b)) => Some(a.union(b)),
            (a, b) => a.or(b),
        };
    }

    fn told(self) -> Finding {
        let Self { mut first, count, one_thing } = self;
        if count > 1 {
            first.place.what = Some(match (first.place.what.take(), one_thing) {
                (None, _) => format!("{count} places"),
                (Some(what), true) => format!("{what}, {count} places"),
                (Some(what), false) => format!("{what} and {} more", count - 1),
            });
        }
        first
    }
}

fn alike(a: &Finding, b: &Finding) -> bool {
    let by = |f: &Finding| (f.check, f.severity, f.place.side, f.place.panel);
    by(a) == by(b) && a.place.source == b.place.source && a.message == b.message && a.advice == b.advice
}
