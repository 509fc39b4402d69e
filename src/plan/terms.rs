//! Closed lists of words of the plan format: modes, sides, kinds.

use crate::source::words_of;
use chrono::Weekday;

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
