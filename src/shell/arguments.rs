//! Every command and option, in one table: parsing, help, completions and man pages are all made from it.

use std::path::PathBuf;

use clap::Args;
use clap::Parser;
use clap::Subcommand;

mod options;
mod subcommands;

pub(crate) use options::Form;
pub(crate) use options::MapArguments;
pub(crate) use options::Paper;
pub(crate) use options::PeopleArguments;
pub(crate) use options::StepsArguments;
pub(crate) use options::Variant;
pub(crate) use subcommands::ChartForm;
pub(crate) use subcommands::FromBackup;
pub(crate) use subcommands::ModelCommand;
pub(crate) use subcommands::ScriptCommand;
pub(crate) use subcommands::StoreCommand;
pub(crate) use subcommands::TryCommand;
pub(crate) use subcommands::TryField;
pub(crate) use subcommands::VoiceCommand;

/// A private, offline companion for making, keeping and coming back to your own four-field map.
#[derive(Debug, Parser)]
#[command(
    name = "wayfold",
    version,
    after_help = "Examples:\n  wayfold\n  wayfold begin --voice\n  wayfold map --blank --out sheet.pdf\n  wayfold \
                  store backup map.age\n  wayfold crisis --region NZ\nAt any prompt: /help lists what you can type, \
                  /pause stops and keeps everything, /voice listens, /crisis shows who to call.\nNothing you write \
                  leaves this machine. If you may be in danger, `wayfold crisis` shows lines for your region; it \
                  needs no map and no passphrase. Wayfold can miss danger in your words. It watches nobody and tells \
                  nobody.\nWayfold is self-help. It is not a medical device and no substitute for a licensed \
                  professional.",
    disable_help_subcommand = true
)]
pub(crate) struct Arguments {
    /// What to do; without it the companion opens.
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
    /// Where and how the map is kept.
    #[command(flatten)]
    pub(crate) keeping: Keeping,
    /// How the companion speaks and listens.
    #[command(flatten)]
    pub(crate) manner: Manner,
}

impl Arguments {
    /// Whether the command comes to hold a person's words from the store, or a passphrase.
    pub(crate) fn opens_a_store(&self) -> bool {
        !matches!(
            self.command,
            Some(
                Command::Crisis { .. }
                    | Command::Voice { .. }
                    | Command::Script { .. }
                    | Command::Try { .. }
                    | Command::Manual { .. }
            )
        )
    }
}

/// The heading of what every command takes. Each has one short line, so that a command's own options stand out.
const EVERY: &str = "With every command";

/// Where and how the map is kept.
#[derive(Clone, Debug, Args)]
pub(crate) struct Keeping {
    /// Keep the map in this folder.
    #[arg(
        long,
        global = true,
        value_name = "DIR",
        env = "WAYFOLD_STORE",
        hide_env_values = true,
        help_heading = EVERY
    )]
    pub(crate) store: Option<PathBuf>,
    /// Take the passphrase from its first line.
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        help_heading = EVERY,
        conflicts_with = "no_passphrase"
    )]
    pub(crate) passphrase_file: Option<PathBuf>,
    /// Use none: who reads your files reads the map.
    #[arg(long, global = true, help_heading = EVERY)]
    pub(crate) no_passphrase: bool,
}

/// How the companion speaks and listens.
#[allow(
    clippy::struct_excessive_bools,
    reason = "each is a switch of its own on the command line"
)]
#[derive(Clone, Debug, Args)]
pub(crate) struct Manner {
    /// Plain, for screen readers.
    #[arg(
        long,
        global = true,
        env = "WAYFOLD_PLAIN",
        hide_env_values = true,
        help_heading = EVERY
    )]
    pub(crate) plain: bool,
    /// Listen at every prompt of a sitting.
    #[arg(long, global = true, help_heading = EVERY)]
    pub(crate) voice: bool,
    /// Read prompts aloud.
    #[arg(long, global = true, help_heading = EVERY)]
    pub(crate) aloud: bool,
    /// You wear them: speaking stops the reading.
    #[arg(long, global = true, help_heading = EVERY)]
    pub(crate) headphones: bool,
    /// Silence that ends listening, 1.5 to 8; else 2.5.
    #[arg(long, global = true, value_name = "SECONDS", value_parser = pause, help_heading = EVERY)]
    pub(crate) pause: Option<f32>,
    /// Keep recordings as WAV here; else none is kept.
    #[arg(long, global = true, value_name = "FILE", help_heading = EVERY)]
    pub(crate) keep_audio: Option<PathBuf>,
    /// Use this speech model (ggml).
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "WAYFOLD_MODEL",
        hide_env_values = true,
        help_heading = EVERY
    )]
    pub(crate) model: Option<PathBuf>,
}

/// A pause in seconds, from 1.5 to 8.
pub(crate) fn pause(text: &str) -> Result<f32, String> {
    let seconds = text
        .trim()
        .parse()
        .ok()
        .filter(|seconds| (1.5..=8.0).contains(seconds));
    seconds.ok_or_else(|| "a pause is 1.5 to 8 seconds".to_owned())
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Make your map, or carry on where you stopped.
    #[command(
        after_help = "Examples:\n  wayfold begin\n  wayfold begin --voice --aloud\n  wayfold begin --plain --variant short\nType /pause to stop; the same command goes on at that place."
    )]
    Begin {
        /// In another way: plainer, short, for two people beside each other, or for someone who leads a group.
        #[arg(long, value_name = "NAME")]
        variant: Option<Variant>,
    },
    /// A short way through when you feel stuck.
    #[command(after_help = "Examples:\n  wayfold stuck\n  wayfold stuck --plain")]
    Stuck,
    /// Note something you noticed.
    #[command(
        after_help = "Examples:\n  wayfold moment\n  wayfold moment \"toward: the meeting ran over, I stayed and asked my \
                      question\"\nA line may begin with toward:, away: or both:. Any other line is noted as not sure."
    )]
    Moment {
        /// The moment in one line.
        words: Option<String>,
    },
    /// Go over the map and bring it up to date.
    #[command(after_help = "Example:\n  wayfold review")]
    Review,
    /// Walk through a dialogue script of your own.
    #[command(
        after_help = "Example:\n  wayfold talk tea.toml\n`wayfold script check tea.toml` says first whether it is whole."
    )]
    Talk {
        /// The script.
        file: PathBuf,
    },
    /// A short practice: hold a thought more lightly, make room, look from the middle.
    #[command(after_help = "Example:\n  wayfold practice --aloud")]
    Practice,
    /// Steady yourself: a few outward-looking things to do.
    #[command(after_help = "Example:\n  wayfold ground")]
    Ground,
    /// Show, print or share the map.
    #[command(
        after_help = "Examples:\n  wayfold map\n  wayfold map --as pdf --out map.pdf\n  wayfold map --as json\n  \
                          wayfold map --blank --out sheet.pdf\n  wayfold map --appointment --out talk.pdf\n  wayfold map --share"
    )]
    Map(MapArguments),
    /// Follow an away move round, from what shows up to what it costs; see the loops on your map.
    #[command(after_help = "Examples:\n  wayfold loops\n  wayfold loops --trace")]
    Loops {
        /// Follow one loop now.
        #[arg(long)]
        trace: bool,
    },
    /// Small next steps: list, add, mark, put in a calendar.
    #[command(
        after_help = "Examples:\n  wayfold steps --add\n  wayfold steps --mark\n  wayfold steps --calendar steps.ics --time 18:30"
    )]
    Steps(StepsArguments),
    /// What changed over time.
    #[command(after_help = "Examples:\n  wayfold lookback\n  wayfold lookback --since 2026-03-01")]
    Lookback {
        /// Compare the time since this date (YYYY-MM-DD) with the time before it.
        #[arg(long, value_name = "DATE")]
        since: Option<String>,
        /// As JSON, for another program.
        #[arg(long)]
        json: bool,
    },
    /// Crisis lines and emergency numbers; works with no map and no passphrase.
    #[command(
        after_help = "Examples:\n  wayfold crisis\n  wayfold crisis --region IE\nWithout --region it guesses the country from this machine. At any prompt of a\nsitting, /region and two letters choose it for your map. `wayfold people` shows\nyour own people, who are sealed with it."
    )]
    Crisis {
        /// The region, as a two-letter code such as NZ.
        #[arg(long, value_name = "XX")]
        region: Option<String>,
        /// As JSON, for another program.
        #[arg(long)]
        json: bool,
    },
    /// Your own people, who come first where a sitting shows who to call: list, add, take off.
    #[command(
        after_help = "Examples:\n  wayfold people\n  wayfold people --add\n  wayfold people --drop 1\nThey are sealed with your map, so this needs its passphrase. At any prompt of a\nsitting, /people does the same."
    )]
    People(PeopleArguments),
    /// Speech model, microphone, a try-out.
    #[command(
        after_help = "Examples:\n  wayfold voice check\n  wayfold begin --voice\nIn a sitting, /voice listens once; nothing that the microphone hears is kept."
    )]
    Voice {
        /// What to do.
        #[command(subcommand)]
        what: VoiceCommand,
    },
    /// Passphrase, backup, restore, merge, verify, erase.
    #[command(
        after_help = "Examples:\n  wayfold store where\n  wayfold store backup map.age\n  wayfold store restore map.age\n  wayfold store erase\nTo move to another machine, take the backup there and restore it. If a passphrase is lost, nobody can open the map; only a backup that you can still open helps."
    )]
    Store {
        /// What to do.
        #[command(subcommand)]
        what: StoreCommand,
    },
    /// Check a dialogue script, draw it, play it.
    #[command(
        after_help = "Examples:\n  wayfold script draw stuck\n  wayfold script check tea.toml\n  wayfold talk tea.toml"
    )]
    Script {
        /// What to do.
        #[command(subcommand)]
        what: ScriptCommand,
    },
    /// Run one part on lines from standard input, touching no map.
    #[command(after_help = "Example:\n  echo \"the words to look at\" | wayfold try safety")]
    Try {
        /// Which part.
        #[command(subcommand)]
        what: TryCommand,
    },
    /// Write man pages and completions for bash, zsh and fish, for who packages the program.
    #[command(hide = true, after_help = "Example:\n  wayfold manual --into pages")]
    Manual {
        /// The folder to write them to.
        #[arg(long, value_name = "DIR")]
        into: PathBuf,
    },
}
