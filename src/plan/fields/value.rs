//! What a form can have from the plan beforehand: single values, and rows of a table.

use crate::source::words_of;

words_of! {
    /// A value of the plan that is printed into a block.
    pub enum PlanValue {
        /// The plan's title.
        PlanTitle = "plan.title",
        /// The plan's short name.
        PlanShort = "plan.short",
        /// The team's name.
        PlanTeam = "plan.team",
        /// The number of the edition.
        EditionNumber = "edition.number",
        /// The edition's day of issue.
        EditionIssued = "edition.issued",
        /// Who prepared the edition.
        EditionPreparedBy = "edition.prepared-by",
        /// Who approved the edition.
        EditionApprovedBy = "edition.approved-by",
        /// The incident's name.
        IncidentName = "incident.name",
        /// The incident's number.
        IncidentNumber = "incident.number",
        /// The operational period, from and to, with its zone.
        IncidentPeriod = "incident.period",
        /// When the operational period begins.
        IncidentFrom = "incident.from",
        /// When the operational period ends.
        IncidentTo = "incident.to",
        /// The name of the net that the document names.
        NetName = "net.name",
        /// How that net is called on the air.
        NetSpoken = "net.spoken",
        /// That net's channels, in the order in which they are tried.
        NetChannels = "net.channels",
        /// Those after the first, to which it goes when that one fails.
        NetFallbacks = "net.fallbacks",
        /// The post that controls that net.
        NetControl = "net.control",
        /// Who stands at that post, where it is one person; the holder of a member's own copy.
        NetOperator = "net.operator",
        /// The tactical call and name of the place whose copy it is.
        PlaceName = "place.name",
        /// The code of the place whose copy it is.
        PlaceCode = "place.code",
        /// The name of the member whose copy it is.
        MemberName = "member.name",
        /// The call sign of the member whose copy it is.
        MemberCall = "member.call",
        /// Name and call sign of that member.
        MemberWho = "member.who",
        /// What that member does in the team.
        MemberRole = "member.role",
        /// Where that member has the first duty by time: what is called there, the post, the door.
        DutyPlace = "duty.place",
        /// When that duty begins, in local time.
        DutyFrom = "duty.from",
        /// When it ends.
        DutyTo = "duty.to",
        /// Who comes then.
        DutyRelief = "duty.relief",
        /// The nets of its post, each with its first channel.
        DutyNet = "duty.net",
        /// The first net that the holder works, a member by the own duties, a place by its posts; the one that the document names before all.
        LiaisonFirst = "liaison.first",
        /// The second one.
        LiaisonSecond = "liaison.second",
        /// The number of the message whose sheet it is; else of a numbered copy, behind the code of its site or the call sign of its holder.
        Serial = "serial",
        /// The number of the message whose sheet it is.
        MessageNumber = "message.number",
        /// Its precedence, ticked where the boxes have its word, with the word that marks it as an exercise.
        MessagePrecedence = "message.precedence",
        /// Its handling instructions.
        MessageHandling = "message.handling",
        /// The station that sent it first.
        MessageStationOfOrigin = "message.station-of-origin",
        /// The count of its text, as written or else as counted.
        MessageCheck = "message.check",
        /// Where it comes from.
        MessagePlaceOfOrigin = "message.place-of-origin",
        /// The time at which it was filed, with its zone, which is ticked where there are boxes for it.
        MessageTimeFiled = "message.time-filed",
        /// Its date, in the zone of the time filed.
        MessageDate = "message.date",
        /// Date and time filed together.
        MessageFiled = "message.filed",
        /// The address, a line each.
        MessageTo = "message.to",
        /// The text: a word in each box, where there are boxes for words.
        MessageText = "message.text",
        /// Who signs it.
        MessageSignature = "message.signature",
    }

    /// Records of which each is a row of a table.
    pub enum RowSource {
        /// Channels, in the order of their rows.
        Channels = "channels",
        /// Members whom the copy's readers may know, by name.
        Members = "members",
        /// Members with duty in the net that the document names, by name; all members where it names none, or nobody has duty in it.
        Crew = "crew",
        /// Places, by tactical call.
        Places = "places",
        /// Nets, by name.
        Nets = "nets",
        /// Posts of the net that the document names, its control first; of a document without a net all posts.
        Stations = "stations",
    }

    /// A value of such a record, printed into its row.
    pub enum RowValue {
        /// The channel's row number.
        ChannelRow = "channel.row",
        /// What the channel is for.
        ChannelFunction = "channel.function",
        /// The channel's name.
        ChannelName = "channel.name",
        /// To whom the channel is assigned.
        ChannelAssignment = "channel.assignment",
        /// What a field radio hears, in MHz, with N or W.
        ChannelRx = "channel.rx",
        /// The tone that it hears.
        ChannelRxTone = "channel.rx-tone",
        /// What it sends, in MHz, with N or W.
        ChannelTx = "channel.tx",
        /// The tone that it sends.
        ChannelTxTone = "channel.tx-tone",
        /// A for analog, D for digital, M for both.
        ChannelMode = "channel.mode",
        /// What else is to be known.
        ChannelRemarks = "channel.remarks",
        /// The band, in the profile's words.
        ChannelBand = "channel.band",
        /// Repeater, simplex, two frequencies.
        ChannelConfiguration = "channel.configuration",
        /// Who may use it.
        ChannelUsers = "channel.users",
        /// The member's name.
        MemberName = "member.name",
        /// The member's call sign.
        MemberCall = "member.call",
        /// The member's license class.
        MemberClass = "member.class",
        /// What the member does in the team.
        MemberRole = "member.role",
        /// Name and call sign together.
        MemberWho = "member.who",
        /// How to reach the member, as far as the copy's readers may know.
        MemberContact = "member.contact",
        /// The posts that the member stands.
        MemberPost = "member.post",
        /// What is said to call the posts that the member stands in that net; all of the member's where the document names none.
        MemberCalled = "member.called",
        /// The place's tactical call.
        PlaceTactical = "place.tactical",
        /// The place's name.
        PlaceName = "place.name",
        /// The place's code.
        PlaceCode = "place.code",
        /// The net's name.
        NetName = "net.name",
        /// The channel on which the net meets.
        NetChannel = "net.channel",
        /// The post that controls it.
        NetControl = "net.control",
        /// What is said to call the station.
        StationCalled = "station.called",
        /// The call signs of who stands there, as far as the copy's readers may know.
        StationCallSigns = "station.call-signs",
    }
}

impl PlanValue {
    /// Whether it is one of the net that a document names.
    #[must_use]
    pub fn is_of_net(self) -> bool {
        ["net.", "liaison."].iter().any(|of| self.word().starts_with(of))
    }

    /// Whether it is one of the message whose sheet it is.
    #[must_use]
    pub fn is_of_message(self) -> bool {
        self.word().starts_with("message.")
    }
}

impl RowValue {
    /// Whether records of this kind have it.
    #[must_use]
    pub fn is_of(self, source: RowSource) -> bool {
        // `channels` has what begins with `channel.`.
        let one = if source == RowSource::Crew { "member" } else { source.word().trim_end_matches('s') };
        self.word().split('.').next() == Some(one)
    }
}
