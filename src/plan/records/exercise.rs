//! Exercises: what is practiced, what for, and what is brought into play.

use super::{Member, Message, Net, Place};
use crate::ground::{At, Id, Span, Words};
use crate::plan::notations::LocalTime;
use crate::plan::reference::Ref;
use crate::plan::terms::{Delivery, MarkWord};
use crate::source::{Whole, record};

record! {
    /// `[[exercise]]`: what is practiced. A plan has one.
    #[derive(Clone, Debug)]
    pub struct Exercise = "exercise" {
        /// What it is called, as `Long night`.
        name: At<Words>,
        /// When it begins, in local time, as `2026-12-05 08:00`.
        from: At<LocalTime>,
        /// When it ends, in local time, as `2026-12-05 12:00`.
        to: At<LocalTime>,
        /// The words that mean a real emergency; every sheet of the exercise has them at its foot, as `real emergency, real emergency`.
        real_emergency: At<Words>,
        /// The word that is ordered to mark the precedence of its messages, as `TEST`; EXERCISE, and TEST is taken too, when left out.
        mark: Option<At<MarkWord>>,
        /// What belongs to it and what does not, as `Voice nets of all shelters; no real deliveries`; not printed when left out.
        scope: Option<At<Words>>,
        /// What players keep to, a sentence each, as `Stay in your room`; none when left out.
        rules: Vec<At<Words>>,
        /// What keeps people and stations safe, a sentence each, as `Stop for real traffic`; none when left out.
        safety: Vec<At<Words>>,
        /// The members who run it; none is named when left out.
        controllers: Vec<At<Ref<Member>>>,
        /// How many words a minute are read out and written down, repeats included, as `15`; 20 when left out.
        words_a_minute: Option<At<Whole<u16, 1, 300>>>,
    }

    /// `[[objective]]`: what an exercise is to show.
    #[derive(Clone, Debug)]
    pub struct Objective = "objective" {
        /// Unique among objectives, as `relay`; made of its name when left out.
        id: At<Id>,
        /// What is to be shown, as `Relay a message without a wrong word`.
        name: At<Words>,
        /// How one sees that it was, as `Count equals check`; not printed when left out.
        measure: Option<At<Words>>,
    }

    /// `[[inject]]`: something that is brought into an exercise.
    #[derive(Clone, Debug)]
    pub struct Inject = "inject" {
        /// Its number, unique among injects, in small letters, digits and hyphens, as `a7`.
        serial: At<Id>,
        /// When it is delivered, in local time, as `2026-12-05 09:00`.
        at: At<LocalTime>,
        /// The place where it is delivered.
        deliver_at: At<Ref<Place>>,
        /// To whom, as `Shelter manager`.
        to: At<Words>,
        /// How it gets there, as `paper`.
        by: At<Delivery>,
        /// The net on which it is then sent, for the time that reading it out takes; none when left out.
        net: Option<At<Ref<Net>>>,
        /// A message that it hands over; none when left out.
        message: Option<At<Ref<Message>>>,
        /// What it says, as `Water is rising at the door`; the message alone when left out.
        text: Option<At<Words>>,
        /// What players are expected to do: on no copy of theirs, as `Shelter asks for sandbags`; nothing is written when left out.
        expected: Option<At<Words>>,
        /// The objective that it serves; none when left out.
        objective: Option<At<Ref<Objective>>>,
        /// The record.
        span: Span,
    }

    /// `[[held-form]]`: which edition of a form lies at a place.
    #[derive(Clone, Debug)]
    pub struct HeldForm = "held-form" {
        /// The place where it lies.
        place: At<Ref<Place>>,
        /// The form, as `bed-report`.
        form: At<Id>,
        /// The edition that is printed on it, as `edition 3`.
        edition: At<Words>,
    }
}

/// Words a minute that are read out and written down by hand, repeats included. Common practice, no source.
pub const WORDS_A_MINUTE: u16 = 20;

impl Exercise {
    /// The word that marks its messages.
    #[must_use]
    pub fn mark_word(&self) -> &'static str {
        self.mark.map_or(MarkWord::Exercise, |mark| mark.value).word()
    }

    /// How many words a minute are reckoned with.
    #[must_use]
    pub fn pace(&self) -> u16 {
        self.words_a_minute.map_or(WORDS_A_MINUTE, |written| written.value.get())
    }
}
