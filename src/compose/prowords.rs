//! Procedure words: those of every card, and those with which messages are passed.

/// Procedure words with what they mean; common practice, no source.
pub(super) const PROWORDS: [(&str, &str); 9] = [
    ("over", "I have finished, answer me"),
    ("out", "I have finished, do not answer"),
    ("roger", "I have heard all of it"),
    ("wilco", "I have heard it and will do it"),
    ("affirm, negative", "yes, no"),
    ("say again", "repeat all, or \u{201c}all after ...\u{201d}"),
    ("correction", "that was wrong, right is ..."),
    ("read back", "repeat it all to me"),
    ("stand by", "wait, do not send"),
];

/// Procedure words with which messages are passed and asked for again. Words: ACP 125(G), Radiotelephone Procedure (from memory); what they
/// mean in our own words.
pub(super) const MESSAGE_PROWORDS: [(&str, &str); 8] = [
    ("this is", "my call sign follows"),
    ("I spell", "that word letter by letter"),
    ("figures", "numbers follow, one by one"),
    ("break", "this part ends, the next begins"),
    ("all before, all after", "say again all before, after that word"),
    ("word before, word after", "say again the one before, after it"),
    ("nothing heard", "nobody answered"),
    ("wrong", "what you read back is not right"),
];

/// Where the words are from, as printed.
pub(super) const MESSAGE_PROWORDS_SOURCE: &str = "Words: ACP 125(G), from memory.";
