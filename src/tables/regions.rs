//! States and provinces, by ISO 3166-2, of the countries whose profiles bind rules to them, and of a neighbour (from memory).

/// Each with its name.
const REGIONS: &[(&str, &str)] = &[
    ("US-AL", "Alabama"),
    ("US-AK", "Alaska"),
    ("US-AZ", "Arizona"),
    ("US-AR", "Arkansas"),
    ("US-CA", "California"),
    ("US-CO", "Colorado"),
    ("US-CT", "Connecticut"),
    ("US-DE", "Delaware"),
    ("US-DC", "District of Columbia"),
    ("US-FL", "Florida"),
    ("US-GA", "Georgia"),
    ("US-HI", "Hawaii"),
    ("US-ID", "Idaho"),
    ("US-IL", "Illinois"),
    ("US-IN", "Indiana"),
    ("US-IA", "Iowa"),
    ("US-KS", "Kansas"),
    ("US-KY", "Kentucky"),
    ("US-LA", "Louisiana"),
    ("US-ME", "Maine"),
    ("US-MD", "Maryland"),
    ("US-MA", "Massachusetts"),
    ("US-MI", "Michigan"),
    ("US-MN", "Minnesota"),
    ("US-MS", "Mississippi"),
    ("US-MO", "Missouri"),
    ("US-MT", "Montana"),
    ("US-NE", "Nebraska"),
    ("US-NV", "Nevada"),
    ("US-NH", "New Hampshire"),
    ("US-NJ", "New Jersey"),
    ("US-NM", "New Mexico"),
    ("US-NY", "New York"),
    ("US-NC", "North Carolina"),
    ("US-ND", "North Dakota"),
    ("US-OH", "Ohio"),
    ("US-OK", "Oklahoma"),
    ("US-OR", "Oregon"),
    ("US-PA", "Pennsylvania"),
    ("US-RI", "Rhode Island"),
    ("US-SC", "South Carolina"),
    ("US-SD", "South Dakota"),
    ("US-TN", "Tennessee"),
    ("US-TX", "Texas"),
    ("US-UT", "Utah"),
    ("US-VT", "Vermont"),
    ("US-VA", "Virginia"),
    ("US-WA", "Washington"),
    ("US-WV", "West Virginia"),
    ("US-WI", "Wisconsin"),
    ("US-WY", "Wyoming"),
    ("US-AS", "American Samoa"),
    ("US-GU", "Guam"),
    ("US-MP", "Northern Mariana Islands"),
    ("US-PR", "Puerto Rico"),
    ("US-UM", "United States Minor Outlying Islands"),
    ("US-VI", "Virgin Islands"),
    ("CA-AB", "Alberta"),
    ("CA-BC", "British Columbia"),
    ("CA-MB", "Manitoba"),
    ("CA-NB", "New Brunswick"),
    ("CA-NL", "Newfoundland and Labrador"),
    ("CA-NS", "Nova Scotia"),
    ("CA-NT", "Northwest Territories"),
    ("CA-NU", "Nunavut"),
    ("CA-ON", "Ontario"),
    ("CA-PE", "Prince Edward Island"),
    ("CA-QC", "Quebec"),
    ("CA-SK", "Saskatchewan"),
    ("CA-YT", "Yukon"),
    ("DE-BB", "Brandenburg"),
    ("DE-BE", "Berlin"),
    ("DE-BW", "Baden-Württemberg"),
    ("DE-BY", "Bayern"),
    ("DE-HB", "Bremen"),
    ("DE-HE", "Hessen"),
    ("DE-HH", "Hamburg"),
    ("DE-MV", "Mecklenburg-Vorpommern"),
    ("DE-NI", "Niedersachsen"),
    ("DE-NW", "Nordrhein-Westfalen"),
    ("DE-RP", "Rheinland-Pfalz"),
    ("DE-SH", "Schleswig-Holstein"),
    ("DE-SL", "Saarland"),
    ("DE-SN", "Sachsen"),
    ("DE-ST", "Sachsen-Anhalt"),
    ("DE-TH", "Thüringen"),
];

/// The regions of a country by its two letters, each with its name; nothing of a country that no table has.
pub fn regions_of(country: &str) -> impl Iterator<Item = (&'static str, &'static str)> {
    REGIONS.iter().copied().filter(move |(code, _)| code.split('-').next() == Some(country))
}

/// The region of a name; a slip of the pen is forgiven.
#[must_use]
pub fn region_called(name: &str) -> Option<&'static str> {
    let known = crate::ground::nearest(name, REGIONS.iter().map(|(_, name)| *name))?;
    REGIONS.iter().find(|(_, name)| *name == known).map(|(code, _)| *code)
}

/// Countries by ISO 3166-1 (from memory).
const COUNTRIES: &str = "AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ \
    CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO FR GA GB GD GE GF GG GH \
    GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP KE KG KH KI KM KN KP KR KW KY KZ LA LB \
    LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV MW MX MY MZ NA NC NE NF NG NI NL NO NP NR NU NZ OM \
    PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO RS RU RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG \
    TH TJ TK TL TM TN TO TR TT TV TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW";

/// Whether these two letters are a country's.
#[must_use]
pub fn is_country(code: &str) -> bool {
    COUNTRIES.split_whitespace().any(|country| country == code)
}
