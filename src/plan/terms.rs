//! Words of the plan format that are not units: modes, sides, kinds.

use crate::ground::{Frequency, Id, Refusal, Shift, Width};
use crate::source::{text_values, words_of};
use chrono::{NaiveTime, Timelike, Weekday};
use std::fmt;

words_of! {
    /// How a signal is modulated, in the words that the mode table lists.
    pub enum Mode {
        /// Frequency modulation, voice.
        Fm = "FM",
        /// Amplitude modulation, voice.
        Am = "AM",
        /// Single sideband, voice.
        Ssb = "SSB",
        /// Morse telegraphy.
        Cw = "CW",
        /// Packet and other data on an FM radio.
        Data = "data",
        /// Digital selective calling of the marine service: calls alone, no voice.
        Dsc = "DSC",
        /// TIA-102 digital voice.
        P25 = "P25",
        /// ETSI TS 102 361 digital voice.
        Dmr = "DMR",
        /// NXDN digital voice.
        Nxdn = "NXDN",
        /// M17 digital voice.
        M17 = "M17",
        /// D-STAR digital voice.
        DStar = "D-STAR",
        /// C4FM digital voice of amateurs.
        C4fm = "C4FM",
        /// ETSI TS 102 658 digital voice.
        Dpmr = "dPMR",
        /// ETSI EN 300 392 digital voice.
        Tetra = "TETRA",
    }
    /// Which sideband.
    pub enum Side {
        /// Above the dial frequency.
        Usb = "USB",
        /// Below the dial frequency.
        Lsb = "LSB",
    }
    /// What a field of a form asks for, where the profile has the words.
    pub enum FieldMeaning {
        /// How urgent a message is.
        Precedence = "precedence",
    }
    /// Whether somebody is at the controls.
    pub enum Control {
        /// An operator is there.
        Attended = "attended",
        /// It works alone.
        Automatic = "automatic",
    }
    /// Why nobody answers on a channel, whatever the hour.
    pub enum Status {
        /// It is not built yet.
        Planned = "planned",
        /// It was, and is not in use now.
        OffTheAir = "off the air",
    }
    /// The day on which a net meets.
    pub enum MeetingDay {
        /// Each day.
        Daily = "daily",
        /// Each Monday.
        Monday = "Monday",
        /// Each Tuesday.
        Tuesday = "Tuesday",
        /// Each Wednesday.
        Wednesday = "Wednesday",
        /// Each Thursday.
        Thursday = "Thursday",
        /// Each Friday.
        Friday = "Friday",
        /// Each Saturday.
        Saturday = "Saturday",
        /// Each Sunday.
        Sunday = "Sunday",
    }
    /// What kind of gateway it is.
    pub enum GatewayKind {
        /// Where messages wait to be fetched.
        Mailbox = "mailbox",
        /// Passes packets on.
        Node = "node",
        /// Joins the channel with others through the internet.
        InternetLink = "internet-link",
    }
    /// How repeaters are linked.
    pub enum Linking {
        /// By radio.
        Radio = "radio",
        /// By the internet.
        Internet = "internet",
    }
    /// What sends on a channel, where it is no person's station.
    pub enum StationKind {
        /// A control or relay link between stations.
        Auxiliary = "auxiliary",
        /// A beacon under automatic control.
        Beacon = "beacon",
    }
    /// How positions are written on cards and lists.
    pub enum PositionFormat {
        /// Degrees with five decimals.
        Decimal = "decimal",
        /// Degrees, and minutes with three decimals.
        DegreesMinutes = "degrees-minutes",
        /// United States National Grid, eight digits.
        Usng = "usng",
        /// Military Grid Reference System, eight digits.
        Mgrs = "mgrs",
        /// Maidenhead locator of six characters.
        Maidenhead = "maidenhead",
    }
    /// What a battery is made of.
    pub enum Chemistry {
        /// Lead and acid: flooded, gel or glass mat.
        LeadAcid = "lead-acid",
        /// Lithium iron phosphate.
        LithiumIronPhosphate = "lithium-iron-phosphate",
    }
    /// What a part of a station is.
    pub enum PartKind {
        /// A battery.
        Battery = "battery",
        /// Utility power, a generator, or a supply on either.
        Mains = "mains",
        /// A panel for the sun.
        Panel = "panel",
        /// What stands between a panel and a battery.
        ChargeController = "charge-controller",
        /// What charges a battery from mains.
        Charger = "charger",
        /// A box with fuses and sockets.
        Distribution = "distribution",
        /// What makes mains of a battery.
        Inverter = "inverter",
        /// What makes another voltage.
        Converter = "converter",
        /// A radio.
        Radio = "radio",
        /// A modem or other controller for data.
        DataController = "data-controller",
        /// A computer.
        Computer = "computer",
        /// A light.
        Light = "light",
        /// A printer.
        Printer = "printer",
        /// A telephone.
        Phone = "phone",
        /// Anything else.
        Other = "other",
    }
    /// How a station was heard.
    pub enum Heard {
        /// Every word.
        Clear = "clear",
        /// With noise, words said again.
        Noisy = "noisy",
        /// Not at all.
        Nothing = "nothing",
    }
    /// What a place is.
    pub enum PlaceKind {
        /// A hospital.
        Hospital = "hospital",
        /// An emergency operations centre.
        OperationsCentre = "operations-centre",
        /// A shelter.
        Shelter = "shelter",
        /// A blood centre.
        BloodCentre = "blood-centre",
        /// A clinic.
        Clinic = "clinic",
        /// A repeater site.
        RepeaterSite = "repeater-site",
        /// Anything else.
        Other = "other",
    }
    /// How an inject gets to a player.
    pub enum Delivery {
        /// Handed over on paper.
        Paper = "paper",
        /// Said to somebody's face.
        Person = "in person",
        /// On a voice net.
        Voice = "voice",
        /// As data: packet and the like.
        Packet = "packet",
        /// By telephone.
        Phone = "phone",
    }
    /// What marks the messages of an exercise as no real ones.
    pub enum MarkWord {
        /// As on every sheet.
        Exercise = "EXERCISE",
        /// The shorter word.
        Test = "TEST",
    }
    /// A document for readers or light of a kind.
    pub enum Variant {
        /// 14 pt and more.
        LargePrint = "large-print",
        /// Heavier strokes for red and dim light.
        Night = "night",
        /// Smaller, to the floors.
        Dense = "dense",
    }
    /// For whom a document is made.
    pub enum Each {
        /// One copy each for every member.
        Member = "member",
        /// One for every place.
        Place = "place",
        /// One for every message: of a form that has values of one.
        Message = "message",
        /// One in all.
        Once = "once",
    }
}

impl Mode {
    /// Whether its receivers are opened by a tone or a code that is set on the radio.
    #[must_use]
    pub const fn has_access_codes(self) -> bool {
        matches!(self, Self::Fm | Self::Data | Self::P25 | Self::Dmr | Self::Nxdn | Self::M17)
    }
}

impl MeetingDay {
    /// The day of the week; none where it is each day.
    #[must_use]
    pub const fn weekday(self) -> Option<Weekday> {
        Some(match self {
            Self::Daily => return None,
            Self::Monday => Weekday::Mon,
            Self::Tuesday => Weekday::Tue,
            Self::Wednesday => Weekday::Wed,
            Self::Thursday => Weekday::Thu,
            Self::Friday => Weekday::Fri,
            Self::Saturday => Weekday::Sat,
            Self::Sunday => Weekday::Sun,
        })
    }

    /// That of a day of the week.
    #[must_use]
    pub const fn of(day: Weekday) -> Self {
        match day {
            Weekday::Mon => Self::Monday,
            Weekday::Tue => Self::Tuesday,
            Weekday::Wed => Self::Wednesday,
            Weekday::Thu => Self::Thursday,
            Weekday::Fri => Self::Friday,
            Weekday::Sat => Self::Saturday,
            Weekday::Sun => Self::Sunday,
        }
    }

    /// Whether it falls on a day of the week.
    #[must_use]
    pub fn is_on(self, day: Weekday) -> bool {
        self.weekday().is_none_or(|own| own == day)
    }
}

impl Status {
    /// On paper, and in a message after "which is".
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Planned => "planned, not on the air yet",
            Self::OffTheAir => "off the air",
        }
    }
}

impl PartKind {
    /// Whether it gives power of its own.
    #[must_use]
    pub const fn is_source(self) -> bool {
        matches!(self, Self::Battery | Self::Mains | Self::Panel)
    }

    /// Whether it is there to draw power, and not to pass it on.
    #[must_use]
    pub const fn is_load(self) -> bool {
        !self.is_source()
            && !self.makes_voltage()
            && !matches!(self, Self::ChargeController | Self::Charger | Self::Distribution)
    }

    /// Whether it gives another voltage than it takes.
    #[must_use]
    pub const fn makes_voltage(self) -> bool {
        matches!(self, Self::Inverter | Self::Converter)
    }

    /// Whether the station is on the air by it: the last to be switched off.
    #[must_use]
    pub const fn is_on_the_air(self) -> bool {
        matches!(self, Self::Radio | Self::DataController)
    }
}

impl PlaceKind {
    /// Whether patients are cared for there: medical equipment decides what may be sent.
    #[must_use]
    pub const fn is_medical(self) -> bool {
        matches!(self, Self::Hospital | Self::BloodCentre | Self::Clinic)
    }
}

text_values! {
    Simplex, "Simplex", "a frequency, or allot", "146.550 MHz", Self::refuse_number;
    RepeaterInput, "RepeaterInput", "a shift, a frequency, usual or unknown", "-600 kHz", Self::refuse_number;
    Transmit, "Transmit", "a frequency, or none", "none", Self::refuse_number;
    WidthWord, "WidthWord", "wide, narrow or a width", "narrow", Self::refuse_number;
    WaiverSubject, "WaiverSubject", "a record as kind/id", "channel/cmd", Self::refuse_number;
    TimeOfDay, "TimeOfDay", "a time of day", "19:30", Self::refuse_number;
    LocalTime, "LocalTime", "a day and time in the plan's time zone", "2026-12-05 06:00", Self::refuse_number;
}

/// What a repeater receives, as its owner states it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RepeaterInput {
    /// From the output.
    Shift(Shift),
    /// Itself.
    Frequency(Frequency),
    /// As far from the output as is usual in the profile's band plan.
    Usual,
    /// Nobody has found out.
    Unknown,
}

impl RepeaterInput {
    /// Reads a shift (with a sign), a frequency (without), `usual` or `unknown`.
    ///
    /// # Errors
    /// When it is none of them.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if text.trim() == "usual" {
            return Ok(Self::Usual);
        }
        if text.trim() == "unknown" {
            return Ok(Self::Unknown);
        }
        if text.trim().starts_with(['+', '-', '\u{2212}', '0']) {
            return Shift::parse(text).map(Self::Shift);
        }
        Frequency::parse(text)
            .map(Self::Frequency)
            .map_err(|refusal| refusal.help("write a shift as \"-600 kHz\" or a frequency as \"146.340 MHz\""))
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("{written} has no unit"))
            .help("write a shift as \"-600 kHz\" or a frequency as \"146.340 MHz\"")
            .bare_number()
    }
}

/// The frequency of a simplex channel.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Simplex {
    /// This.
    On(Frequency),
    /// One of a pool, still to be chosen.
    Allot,
}

impl Simplex {
    /// Reads a frequency or `allot`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        if text.trim() == "allot" { Ok(Self::Allot) } else { Frequency::parse(text).map(Self::On) }
    }

    fn refuse_number(written: &str) -> Refusal {
        Frequency::refuse_number(written)
    }
}

/// What a radio sends.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Transmit {
    /// Nothing: listen only.
    Off,
    /// This.
    On(Frequency),
}

impl Transmit {
    /// Reads a frequency or `none`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        match text.trim() {
            "none" => Ok(Self::Off),
            // What is off in a radio plan is a tone; here it is the whole of sending.
            "off" => Err(Refusal::new("\"off\" is said of tones; a channel to listen to alone sends on none")
                .help("write tx = \"none\"")),
            frequency => Frequency::parse(frequency).map(Self::On),
        }
    }

    fn refuse_number(written: &str) -> Refusal {
        Frequency::refuse_number(written)
    }
}

/// How wide a signal is, as written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WidthWord {
    /// The mode's wide form.
    Wide,
    /// The mode's narrow form.
    Narrow,
    /// This width.
    Exact(Width),
}

impl WidthWord {
    /// Reads `wide`, `narrow` or a width.
    ///
    /// # Errors
    /// When it is none of these.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        match text.trim() {
            "wide" => Ok(Self::Wide),
            "narrow" => Ok(Self::Narrow),
            other => Width::parse(other).map(Self::Exact),
        }
    }

    fn refuse_number(written: &str) -> Refusal {
        let width = Width::parse(&format!("{written} kHz")).map_or("12.5 kHz".to_owned(), |width| width.to_string());
        Refusal::new(format!("{written} has no unit")).help(format!("write wide, narrow or \"{width}\"")).bare_number()
    }
}

/// A record that a waiver names: `channel/cmd`, or `plan` and `edition`, which have no id.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct WaiverSubject {
    /// As findings write it.
    pub text: String,
}

impl WaiverSubject {
    /// Reads `kind/id`.
    ///
    /// # Errors
    /// When the part after the slash is no id.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let trimmed = text.trim();
        let is_subject =
            trimmed.split_once('/').is_some_and(|(kind, id)| Id::parse(kind).is_ok() && Id::parse(id).is_ok());
        if is_subject {
            return Ok(Self { text: trimmed.to_owned() });
        }
        Err(Refusal::new(format!("\"{trimmed}\" is not a record"))
            .help("write it as the finding does: \"channel/cmd\""))
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a record is wanted"))
            .help("write it as \"channel/cmd\"")
    }
}

/// A time of day in the plan's time zone, to the minute.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct TimeOfDay(NaiveTime);

impl TimeOfDay {
    /// Reads `"19:30"`, or TOML's own `19:30:00`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let time = ["%H:%M", "%H:%M:%S"].iter().find_map(|format| NaiveTime::parse_from_str(text.trim(), format).ok());
        time.map(Self).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a time of day")).help("write it as \"19:30\", local time")
        })
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a time of day is wanted")).help("write it as \"19:30\"")
    }

    /// The time.
    #[must_use]
    pub const fn as_naive(self) -> NaiveTime {
        self.0
    }

    /// Whole minutes since midnight.
    #[must_use]
    pub fn as_minutes(self) -> i64 {
        i64::from(self.0.hour() * 60 + self.0.minute())
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%H:%M"))
    }
}

/// A day and time of day in the plan's time zone, to the minute.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LocalTime(chrono::NaiveDateTime);

impl LocalTime {
    /// Reads `"2026-12-05 06:00"`, or TOML's own `2026-12-05T06:00:00`.
    ///
    /// # Errors
    /// When it is neither.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let formats = ["%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M:%S", "%Y-%m-%dT%H:%M"];
        let time = formats.iter().find_map(|format| chrono::NaiveDateTime::parse_from_str(text.trim(), format).ok());
        time.map(Self).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a day and time"))
                .help("write it as \"2026-12-05 06:00\", local time")
        })
    }

    fn refuse_number(written: &str) -> Refusal {
        Refusal::new(format!("the number {written} stands where a time is wanted"))
            .help("write it as \"2026-12-05 06:00\"")
    }

    /// What a clock shows.
    #[must_use]
    pub const fn of(shown: chrono::NaiveDateTime) -> Self {
        Self(shown)
    }

    /// The local time.
    #[must_use]
    pub const fn as_naive(self) -> chrono::NaiveDateTime {
        self.0
    }
}

impl fmt::Display for LocalTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%Y-%m-%d %H:%M"))
    }
}
