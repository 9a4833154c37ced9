use std::fmt;

use crate::fault::{Fault, Result, Source};

/// A moment in universal time, to the second. It comes from the job, the command line or SOURCE_DATE_EPOCH, never from a clock.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Date {
    /// Seconds since the start of 1970.
    seconds: i64,
}

/// 9999-12-31T23:59:59Z, the last moment that a PDF date can say.
const LAST: i64 = 253_402_300_799;

impl Date {
    /// From seconds since the start of 1970, as in SOURCE_DATE_EPOCH; `None` before 1970 and after the year 9999.
    pub fn from_epoch(seconds: i64) -> Option<Self> {
        (0..=LAST).contains(&seconds).then_some(Self { seconds })
    }

    /// From `YYYY-MM-DD`, at midnight.
    ///
    /// # Errors
    /// Says what to write where the text is no date of the calendar.
    pub fn parse(text: &str, source: Source) -> Result<Self> {
        let day = jiff::civil::Date::strptime("%Y-%m-%d", text).ok().filter(|day| day.to_string() == text);
        let moment = day.and_then(|day| jiff::tz::Offset::UTC.to_timestamp(day.at(0, 0, 0, 0)).ok());
        moment.and_then(|m| Self::from_epoch(m.as_second())).ok_or_else(|| {
            let fault = Fault::new(source, format!("`{text}` is not a date from 1970 to 9999"));
            fault.hint("write year, month and day: 2027-01-15").into()
        })
    }

    /// Seconds since the start of 1970.
    pub const fn epoch(self) -> i64 {
        self.seconds
    }

    /// As a PDF date (ISO 32000-1, 7.9.4): `D:20270115000000Z`.
    pub fn pdf(self) -> String {
        self.text("D:%Y%m%d%H%M%SZ")
    }

    /// As in XMP (ISO 8601): `2027-01-15T00:00:00Z`.
    pub fn iso(self) -> String {
        self.text("%Y-%m-%dT%H:%M:%SZ")
    }

    fn text(self, form: &str) -> String {
        jiff::Timestamp::from_second(self.seconds).map_or_else(|_| String::new(), |t| t.strftime(form).to_string())
    }
}

/// `2027-01-15`.
impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text("%Y-%m-%d"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn known_moments() {
        // 1 000 000 000 s is 2001-09-09T01:46:40Z and 951 782 400 s is 2000-02-29 (POSIX time, widely published).
        assert_eq!(Date::from_epoch(1_000_000_000).unwrap().iso(), "2001-09-09T01:46:40Z");
        assert_eq!(Date::parse("2000-02-29", Source::Nowhere).unwrap().epoch(), 951_782_400);
        assert_eq!(Date::parse("2027-01-15", Source::Nowhere).unwrap().pdf(), "D:20270115000000Z");
    }

    #[test]
    fn no_such_days() {
        for text in
            ["2027-02-29", "1900-01-01", "2027-13-01", "2027-1-15", "15.1.2027", "2027-01-15-", "", "2027-00-10"]
        {
            assert!(Date::parse(text, Source::Nowhere).is_err(), "{text}");
        }
    }

    proptest! {
        #[test]
        fn text_and_moment_agree(seconds in 0..=LAST) {
            let date = Date::from_epoch(seconds).unwrap();
            let midnight = Date::parse(&date.to_string(), Source::Nowhere).unwrap();
            prop_assert_eq!(midnight.epoch(), seconds - seconds % 86_400);
        }
    }
}
