//! A small team: names of few letters, little known of its sites, old evidence beside new. It stands behind a head.

/// A hospital whose repeater has an antenna of its own, a court house, a blood center of which little is known, a field of which nothing is.
pub const TEAM: &str = r#"
[incident]
name = "Flood"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
[[repeater]]
id = "tower"
call = "WZ7QUS"
name = "Tower"
place = "brenn"
output = "444.300 MHz"
input = "+5 MHz"
tone-in = "141.3 Hz"
tone-out = "unknown"
verified = { on = 2026-09-12, by = "qra" }
[[channel]]
id = "med"
row = 1
name = "MED"
spoken = "Medical One"
repeater = "tower"
power = "25 W"
next = "tac"
after = "2 min"
[[channel]]
id = "tac"
row = 2
name = "TAC"
spoken = "Tactical Two"
simplex = "446.050 MHz"
power = "25 W"
verified = { on = 2025-07-01, by = "qra" }
[[channel]]
id = "last"
row = 3
name = "LAST"
spoken = "Last Three"
simplex = "147.510 MHz"
power = "50 W"
verified = { on = 2026-09-12, by = "qra" }
[[net]]
id = "net"
name = "Net"
spoken = "Medical Net"
primary = "med"
alternate = "tac"
contingency = "last"
rejoin = "listen on MED for 5 minutes at each full hour"
control = "nc"
schedule = [{ day = "daily", at = "18:00" }]
[[place]]
id = "court"
code = "EOC"
tactical = "Court"
name = "Court House"
kind = "operations-centre"
position = "42.0250, -93.4520"
visited-on = 2026-10-02
contact = [{ role = "Duty officer", phone = "+1 515 555 0150", audience = "team", confirmed = 2026-10-02 }]
antenna = [{ id = "whip", kind = "vertical", gain = "3 dBd", height = "14 m", channels = ["med", "tac", "last"] }]
[[place]]
id = "brenn"
code = "BRN"
tactical = "Brenn"
name = "Saint Brenn Hospital"
kind = "hospital"
position = "42.0410, -93.4800"
visited-on = 2026-08-14
transmit = { allowed = "roof only", agreed-by = "Clinical engineering", on = 2026-08-14, max = "25 W" }
contact = [{ role = "House supervisor", phone = "+1 515 555 0151", audience = "team", confirmed = 2026-08-14 }]
antenna = [
  { id = "roof", kind = "vertical", gain = "0 dBd", height = "22 m", feed-loss = "2 dB", channels = ["med", "tac"] },
  { id = "mast", kind = "vertical", gain = "6 dBd", height = "38 m", feed-loss = "2 dB", repeaters = ["tower"] },
]
[[place]]
id = "blood"
code = "BLD"
tactical = "Blood"
name = "Blood Center"
kind = "blood-centre"
position = "42.0105, -93.4310"
visited-on = 2024-08-28
contact = [{ role = "Technician", phone = "+1 515 555 0106", audience = "public", confirmed = 2024-08-28 }]
[[place]]
id = "field"
code = "FLD"
tactical = "Field"
name = "Fairground"
kind = "other"
position = "41.9950, -93.5050"
visited-on = 2026-05-02
[[radio]]
id = "mobile"
name = "Mobile"
covers = ["144 MHz to 148 MHz", "430 MHz to 450 MHz"]
modes = ["FM", "data"]
power = "50 W"
steps = ["Press V/M until VFO shows", "Menu 12: shift; menu 13: offset", "Menu 20: tone to send"]
[[member]]
id = "qrb"
call = "WZ7QRB"
name = "Tomas Ek"
class = "general"
expires = 2030-05-11
role = ["Net control"]
confirmed = 2026-10-01
phone = [{ number = "+1 515 555 0102", audience = "team" }]
radio = ["mobile"]
[[member]]
id = "qrc"
call = "WZ7QRC"
name = "Noor Hadi"
class = "technician"
expires = 2030-05-11
confirmed = 2026-10-01
phone = [{ number = "+1 515 555 0106", audience = "team" }]
radio = ["mobile"]
[[post]]
id = "nc"
name = "Control"
place = "court"
nets = ["net"]
[[post]]
id = "br"
name = "Brenn radio"
place = "brenn"
nets = ["net"]
[[post]]
id = "bl"
name = "Blood radio"
place = "blood"
nets = ["net"]
[[post]]
id = "st"
name = "Staging"
place = "field"
nets = ["net"]
[[duty]]
post = "nc"
member = "qrb"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
[[duty]]
post = "br"
member = "qrc"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
[[path-test]]
from = "blood"
to = "court"
channel = "tac"
on = 2024-08-28
result = "noisy"
power = "5 W"
[[path-test]]
from = "brenn"
to = "court"
channel = "tac"
on = 2026-08-14
result = "clear"
power = "25 W"
"#;
