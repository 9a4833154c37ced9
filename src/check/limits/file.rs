//! The limits file: TOML that names a built-in set, changes limits and severities, and waives findings with a reason.

use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{Bound, LimitSet, Limits, Override, Waiver, nearest};
use crate::check::frame::unknown;
use crate::check::{CHECKS, Check, Severity};
use crate::fault::{Fault, Faults, Result, Span, Text};
use crate::unit::{Quantity, parse_length};

type Value<'t> = Spanned<DeValue<'t>>;

impl Limits {
    /// The limits of a limits file over `otherwise`, the set that holds where the file names none.
    ///
    /// # Errors
    /// All faults of the file: bad TOML, unknown keys, checks or limits (each with the nearest name), values of the wrong
    /// kind, waivers without a reason.
    pub fn read(file: &Arc<Text>, otherwise: LimitSet) -> Result<Self> {
        let mut reader = Reader { file, faults: Faults::new(), limits: Self::new(otherwise) };
        let (root, errors) = DeTable::parse_recoverable(&file.text);
        for error in errors {
            let span = Span::new(file, error.span().unwrap_or(0..0));
            reader.faults.push(Fault::new(span, format!("this is not TOML: {}", error.message())));
        }
        reader.root(root.get_ref());
        let Reader { faults, limits, .. } = reader;
        faults.or(limits)
    }
}

struct Reader<'a> {
    file: &'a Arc<Text>,
    faults: Faults,
    limits: Limits,
}

impl Reader<'_> {
    fn span<T>(&self, at: &Spanned<T>) -> Span {
        Span::new(self.file, at.span())
    }

    fn fault<T>(&mut self, at: &Spanned<T>, message: String, hint: String) {
        let fault = Fault::new(self.span(at), message).hint(hint);
        self.faults.push(fault);
    }

    fn root(&mut self, root: &DeTable<'_>) {
        for (key, value) in root {
            match key.get_ref().as_ref() {
                "set" => self.set(value),
                "limits" => self.values(value),
                "severity" => self.severities(value),
                "waive" => self.waivers(value),
                other => self.unknown_key(key, other, &["set", "limits", "severity", "waive"]),
            }
        }
    }

    fn unknown_key<T>(&mut self, at: &Spanned<T>, key: &str, allowed: &[&str]) {
        let hint = match nearest(key, allowed.iter().copied()) {
            Some(near) => format!("the nearest is `{near}`; allowed are {}", allowed.join(", ")),
            None => format!("allowed are {}", allowed.join(", ")),
        };
        self.fault(at, format!("unknown key `{key}`"), hint);
    }

    fn set(&mut self, value: &Value<'_>) {
        if let Some(set) = value.get_ref().as_str().and_then(LimitSet::from_name) {
            self.limits.set = set;
        } else {
            let names = LimitSet::ALL.map(LimitSet::name).join(", ");
            self.fault(value, "this is not a built-in set of limits".to_owned(), format!("allowed are {names}"));
        }
    }

    /// `[limits.<check>]`, one key a limit.
    fn values(&mut self, value: &Value<'_>) {
        let Some(checks) = self.table(value, "limits are written as `[limits.<check>]`") else { return };
        for (key, values) in checks {
            let Some(check) = self.check(key, key.get_ref()) else { continue };
            let Some(values) = self.table(values, "each limit is a line of its own: `one-ink = \"6 pt\"`") else {
                continue;
            };
            for (key, value) in values {
                let own = |b: &'static Bound| b.name.split_once('.').map_or(b.name, |(_, own)| own);
                match check.bounds.iter().find(|b| own(b) == key.get_ref().as_ref()) {
                    Some(bound) => self.value(bound, value),
                    None if check.bounds.is_empty() => {
                        let message = format!("the check `{}` has no limits", check.id);
                        self.fault(key, message, "take the line out".to_owned());
                    }
                    None => {
                        let names: Vec<&str> = check.bounds.iter().map(own).collect();
                        self.unknown_key(key, key.get_ref(), &names);
                    }
                }
            }
        }
    }

    fn value(&mut self, bound: &'static Bound, value: &Value<'_>) {
        match quantity(bound.coated, value.get_ref()) {
            Ok(quantity) => {
                self.limits.values.insert(bound.name, quantity);
            }
            Err(hint) => self.fault(value, format!("this is not a value for `{}`", bound.name), hint),
        }
    }

    /// `[severity]`, one key a check.
    fn severities(&mut self, value: &Value<'_>) {
        let Some(checks) = self.table(value, "severities are written as `[severity]`, one line a check") else {
            return;
        };
        for (key, value) in checks {
            let Some(check) = self.check(key, key.get_ref()) else { continue };
            let weight = match value.get_ref().as_str() {
                Some("off") => Some(Override::Off),
                Some(name) => Severity::from_name(name).map(Override::Weighs),
                None => None,
            };
            if let Some(weight) = weight {
                self.limits.severities.insert(check.id, weight);
            } else {
                let hint = "allowed are \"note\", \"warning\", \"error\", \"off\"".to_owned();
                self.fault(value, "this is not a severity".to_owned(), hint);
            }
        }
    }

    /// `[[waive]]`.
    fn waivers(&mut self, value: &Value<'_>) {
        let Some(list) = value.get_ref().as_array() else {
            let hint = "each waiver opens with `[[waive]]`".to_owned();
            return self.fault(value, "waivers are a list".to_owned(), hint);
        };
        for entry in list {
            self.waiver(entry);
        }
    }

    fn waiver(&mut self, entry: &Value<'_>) {
        let Some(table) = self.table(entry, "each waiver opens with `[[waive]]`") else { return };
        let mut check = None;
        let (mut place, mut contains, mut reason) = (None, None, None);
        for (key, value) in table {
            let Some(text) = value.get_ref().as_str() else {
                self.fault(value, format!("`{}` is a text", key.get_ref()), "write it in quotes".to_owned());
                continue;
            };
            match key.get_ref().as_ref() {
                "check" => check = self.check(value, text),
                "place" => place = Some(text.to_owned()),
                "contains" => contains = Some(text.to_owned()),
                "reason" => reason = Some(text.to_owned()).filter(|r| !r.trim().is_empty()),
                other => self.unknown_key(key, other, &["check", "place", "contains", "reason"]),
            }
        }
        let Some(reason) = reason else {
            let hint = "add `reason = \"…\"`: who decided it and why; it is printed in the report and on the slug line";
            return self.fault(entry, "this waiver gives no reason".to_owned(), hint.to_owned());
        };
        let source = self.span(entry).into();
        match check {
            Some(check) if check.id == "waiver-unused" => {
                let hint = "take the waiver out that covers nothing".to_owned();
                self.fault(entry, "`waiver-unused` cannot be waived".to_owned(), hint);
            }
            Some(check) => self.limits.waivers.push(Waiver { check: check.id, place, contains, reason, source }),
            None if table.keys().any(|k| k.get_ref() == "check") => {}
            None => self.fault(entry, "this waiver names no check".to_owned(), "add `check = \"…\"`".to_owned()),
        }
    }

    fn table<'v, 't>(&mut self, value: &'v Value<'t>, hint: &str) -> Option<&'v DeTable<'t>> {
        let table = value.get_ref().as_table();
        if table.is_none() {
            self.fault(value, "a table is wanted here".to_owned(), hint.to_owned());
        }
        table
    }

    fn check<T>(&mut self, at: &Spanned<T>, id: &str) -> Option<&'static Check> {
        let check = CHECKS.iter().find(|c| c.id == id);
        if check.is_none() {
            let fault = unknown(id, self.span(at).into());
            self.faults.push(fault);
        }
        check
    }
}

/// A value of the kind of `like`, or what to write.
fn quantity(like: Quantity, value: &DeValue<'_>) -> std::result::Result<Quantity, String> {
    if let Quantity::Length(_) | Quantity::Points(_) = like {
        let text = value.as_str().ok_or("write a length in quotes, such as \"1/8 in\", \"3 mm\" or \"6 pt\"")?;
        let length = parse_length(text).map_err(|e| e.to_string())?;
        return Ok(if matches!(like, Quantity::Points(_)) {
            Quantity::Points(length)
        } else {
            Quantity::Length(length)
        });
    }
    let text = match value {
        DeValue::String(text) => text.as_ref(),
        DeValue::Integer(n) => n.as_str(),
        DeValue::Float(n) => n.as_str(),
        _ => "",
    };
    // `15 %`, `4.5 : 1`, `225 ppi` and the bare number say the same.
    let number = text.trim();
    let number = [": 1", ":1", "%", "ppi"].iter().find_map(|unit| number.strip_suffix(unit)).unwrap_or(number).trim();
    let number: f64 = number
        .parse()
        .ok()
        .filter(|v: &f64| v.is_finite() && *v >= 0.0)
        .ok_or_else(|| format!("write a number that is not below zero, such as {}", like.value()))?;
    Ok(match like {
        Quantity::Percent(_) => Quantity::Percent(number),
        Quantity::Ratio(_) => Quantity::Ratio(number),
        Quantity::Ppi(_) => Quantity::Ppi(number),
        Quantity::DeltaE(_) => Quantity::DeltaE(number),
        Quantity::Count(_) => whole(number).map(Quantity::Count).ok_or("write a whole number")?,
        _ => Quantity::Decimal(number),
    })
}

fn whole(number: f64) -> Option<i64> {
    format!("{number}").parse().ok()
}
