//! Maps to draw: an invented person's, and as many entries as wanted in many scripts.

use jiff::Timestamp;
use uuid::Uuid;
use wayfold::map::EntryId;
use wayfold::map::Event;
use wayfold::map::EventId;
use wayfold::map::Field;
use wayfold::map::Kind;
use wayfold::map::Link;
use wayfold::map::Map;
use wayfold::map::Mark;
use wayfold::map::MomentId;
use wayfold::map::StepId;
use wayfold::map::TraceId;
use wayfold::map::Way;
use wayfold::map::What;
use wayfold::safety::Words;
use wayfold::safety::screen;

/// Builds a map, one thing after another.
#[derive(Default)]
pub(crate) struct Drawn {
    events: Vec<Event>,
    entries: u128,
}

pub(crate) fn words(text: &str) -> Words {
    screen(text).into_words()
}

impl Drawn {
    pub(crate) fn happens(&mut self, what: What) {
        let count = self.events.len() as u128 + 1;
        // Eight hours apart from one noon on, so that things fall on several days.
        let at = Timestamp::from_second(1_760_000_000 + 28_800 * i64::try_from(count).expect("in range"))
            .expect("in range");
        self.events.push(Event {
            id: EventId(Uuid::from_u128(count)),
            at,
            what,
        });
    }

    pub(crate) fn entry(&mut self, field: Field, kind: Option<Kind>, text: &str) -> EntryId {
        self.entries += 1;
        let entry = EntryId(Uuid::from_u128(0xe000_0000 + self.entries));
        self.happens(What::EntryAdded {
            entry,
            field,
            kind,
            words: words(text),
        });
        entry
    }

    pub(crate) fn link(&mut self, from: EntryId, link: Link, to: EntryId) {
        self.happens(What::Linked { from, to, link });
    }

    pub(crate) fn map(&self) -> Map {
        Map::fold(&self.events)
    }
}

/// A small map: three entries.
pub(crate) fn three() -> Map {
    let mut drawn = Drawn::default();
    drawn.entry(Field::Matters, Some(Kind::Person), "my daughter Ines");
    drawn.entry(Field::Inner, Some(Kind::Body), "tight chest");
    drawn.entry(Field::Toward, None, "ring Ines on Sunday");
    drawn.map()
}

/// A whole map of an invented gardener: entries in four fields, links, a loop and steps.
pub(crate) fn gardener() -> Map {
    let mut drawn = Drawn::default();
    let ines = drawn.entry(Field::Matters, Some(Kind::Person), "my daughter Ines");
    drawn.entry(Field::Matters, Some(Kind::Person), "my late father");
    let patient = drawn.entry(Field::Matters, Some(Kind::Quality), "being patient, with me too");
    let garden = drawn.entry(
        Field::Matters,
        Some(Kind::Activity),
        "growing vegetables with the street",
    );
    let letting = drawn.entry(Field::Inner, Some(Kind::Thought), "I'm letting everyone down");
    let chest = drawn.entry(Field::Inner, Some(Kind::Body), "tight chest");
    let shame = drawn.entry(Field::Inner, Some(Kind::Feeling), "shame");
    drawn.entry(Field::Inner, Some(Kind::Memory), "the meeting last spring");
    let cancel = drawn.entry(Field::Away, None, "cancel the garden meeting an hour before");
    let shed = drawn.entry(Field::Away, None, "sort the tool shed for hours");
    let mails = drawn.entry(Field::Away, None, "answer mails at midnight");
    let ring = drawn.entry(Field::Toward, None, "ring Ines on Sunday");
    let hello = drawn.entry(
        Field::Toward,
        None,
        "go to the garden and say hello to two people",
    );
    let bench = drawn.entry(Field::Toward, None, "sort the tool shed with the neighbour");
    drawn.entry(Field::Toward, None, "sit on the bench for five minutes");
    drawn.link(letting, Link::Pulls, cancel);
    drawn.link(chest, Link::Pulls, cancel);
    drawn.link(chest, Link::Pulls, mails);
    drawn.link(cancel, Link::CostsLater, shame);
    drawn.link(ring, Link::Serves, ines);
    drawn.link(hello, Link::Serves, garden);
    drawn.link(hello, Link::Serves, patient);
    drawn.link(shed, Link::SameBehaviour, bench);
    drawn.happens(What::LoopTraced {
        trace: TraceId(Uuid::from_u128(0xa1)),
        hook: letting,
        away: cancel,
        relief: Some(words("my shoulders drop, the evening is mine")),
        cost: Some(words("they stop asking me, and I feel further away")),
        back_to: Some(letting),
        matters: Some(words("I want to grow things with these people")),
    });
    let step = StepId(Uuid::from_u128(0x51));
    drawn.happens(What::StepAdded {
        step,
        when: Some(words("it is Thursday and I hold the phone to cancel")),
        act: words("I put on my boots and walk to the gate"),
        serves: vec![garden],
        confidence: Some(7),
        smaller_than: None,
    });
    for (at, (entry, way)) in [
        (cancel, Way::Away),
        (hello, Way::Toward),
        (mails, Way::Away),
        (hello, Way::Toward),
        (bench, Way::Both),
        (ring, Way::Toward),
        (cancel, Way::Away),
        (ring, Way::NotSure),
        (hello, Way::Toward),
        (hello, Way::Toward),
        (bench, Way::Toward),
        (mails, Way::Away),
    ]
    .into_iter()
    .enumerate()
    {
        drawn.happens(What::MomentNoted {
            moment: MomentId(Uuid::from_u128(0xb0 + at as u128)),
            showed_up: vec![if at % 3 == 0 { letting } else { chest }],
            did: vec![entry],
            way,
            serves: Vec::new(),
            words: None,
        });
    }
    for (entry, now, later) in [(cancel, 8, 2), (shed, 6, 6), (mails, 5, 3)] {
        drawn.happens(What::WorkabilityRated { entry, now, later });
    }
    drawn.happens(What::StepMarked {
        step,
        mark: Mark::Partly,
        helpful: Some(true),
        got_in_the_way: Some(chest),
    });
    drawn.map()
}

/// Lines in many scripts, long words, emoji, combining marks; the last ones are hostile.
pub(crate) const SCRIPTS: [&str; 16] = [
    "أتصل بأختي يوم الجمعة",
    "לטייל עם אבא בפארק (בשבת)",
    "和邻居一起种西红柿",
    "庭でおばあちゃんと話す",
    "할머니께 편지 쓰기",
    "माँ के साथ चाय पीना",
    "Zürich–Łódź: naïve façade, œuvre",
    "e\u{301}te\u{301} a\u{308}pfel o\u{302}\u{323}",
    "breathe 🌱 with 👩🏽‍🌾 at the gate",
    "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichenverordnung",
    "слушать сына, не перебивая",
    "να ακούω τη γιαγιά",
    "mixed שלום and مرحبا in one line",
    "<b>&amp;\"quotes\"</b> *stars* _under_ [x](y) `tick`",
    "red \u{1b}[31mred\u{1b}[0m bell\u{7} \u{9b}2J csi",
    "turned \u{202e}around\u{202c} text\u{200b}here",
];

/// As many entries as wanted, spread over the fields, every fourth a longer one.
pub(crate) fn many(count: usize) -> Map {
    let mut drawn = Drawn::default();
    let short = [
        "walk to the gate",
        "worry",
        "patience",
        "a tight jaw",
        "write to Ana",
        "watch the rain",
        "be kind",
    ];
    let long = [
        "sit beside my brother on the porch for ten minutes, with the phone in the kitchen, and ask how his week was",
        "the thought that everyone at the table can see how tired I am and is too polite to say so",
    ];
    let mut last = None;
    for at in 0..count {
        let field = Field::ALL[at % 4];
        let text = match at % 5 {
            4 => long[at % long.len()].to_owned(),
            3 => SCRIPTS[at % 13].to_owned(),
            _ => format!("{} {}", short[at % short.len()], at + 1),
        };
        let entry = drawn.entry(field, None, &text);
        if let (Field::Away, Some(inner)) = (field, last) {
            drawn.link(inner, Link::Pulls, entry);
        }
        last = Some(entry);
    }
    drawn.map()
}

/// One entry a script, in one field after the other.
pub(crate) fn scripts() -> Map {
    let mut drawn = Drawn::default();
    for (at, text) in SCRIPTS.into_iter().enumerate() {
        drawn.entry(Field::ALL[at % 4], None, text);
    }
    drawn.map()
}
