//! The commands below `voice`, `store`, `script` and `try`, with their options.

use std::path::PathBuf;

use clap::Args;
use clap::Subcommand;
use clap::ValueEnum;

/// What to do with speech.
#[derive(Clone, Debug, Subcommand)]
pub(crate) enum VoiceCommand {
    /// Look at microphone, level and model, and say what is missing.
    #[command(after_help = "Example:\n  wayfold voice check")]
    Check,
    /// Speech models: list them, or put one in place.
    #[command(
        after_help = "Examples:\n  wayfold voice model list\n  wayfold voice model install ggml-base-q8_0.bin"
    )]
    Model {
        /// What to do.
        #[command(subcommand)]
        what: ModelCommand,
    },
    /// List sound devices.
    #[command(after_help = "Example:\n  wayfold voice devices")]
    Devices,
}

/// What to do with speech models.
#[derive(Clone, Debug, Subcommand)]
pub(crate) enum ModelCommand {
    /// List the models that are here, each checked.
    #[command(after_help = "Example:\n  wayfold voice model list")]
    List,
    /// Make a speech model ready from its files (`CTranslate2` or ggml).
    #[command(after_help = "Example:\n  wayfold voice model install ggml-base-q8_0.bin")]
    Install {
        /// The model's files in order, and its vocabulary if it has one.
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
        /// The folder to put it in, instead of your own.
        #[arg(long, value_name = "DIR")]
        into: Option<PathBuf>,
    },
}

/// What to do with the store.
#[derive(Clone, Debug, Subcommand)]
pub(crate) enum StoreCommand {
    /// Where the map is kept.
    #[command(after_help = "Example:\n  wayfold store where")]
    Where,
    /// Read everything and compare both copies.
    #[command(after_help = "Example:\n  wayfold store verify")]
    Verify,
    /// Change, set or remove the passphrase.
    ///
    /// The inner key that seals your map stays the same. It is locked anew, and the old key files are written over. A copy
    /// made of them before, as by a backup of your disk, still opens in the old way. To get a new inner key as well, make
    /// a backup, erase the map and restore it.
    #[command(
        after_help = "Examples:\n  wayfold store passphrase\n  wayfold store passphrase --remove\nThe old passphrase is asked for first. If it is lost, nobody can open the map."
    )]
    Passphrase {
        /// Keep the map without one.
        #[arg(long)]
        remove: bool,
        /// Read the new passphrase from the first line of this file.
        #[arg(long, value_name = "FILE")]
        new_passphrase_file: Option<PathBuf>,
    },
    /// Write a sealed backup (age version 1).
    #[command(
        after_help = "Examples:\n  wayfold store backup map.age\n  wayfold store backup map.age --recipient age1..."
    )]
    Backup {
        /// The file to write.
        file: PathBuf,
        /// Seal it for this age recipient instead of a passphrase.
        #[arg(long, value_name = "age1...")]
        recipient: Vec<String>,
        /// Read the backup's passphrase from the first line of this file.
        #[arg(long, value_name = "FILE")]
        backup_passphrase_file: Option<PathBuf>,
    },
    /// Bring a backup into an empty store.
    #[command(after_help = "Example:\n  wayfold store restore map.age")]
    Restore(FromBackup),
    /// Add the events of another device's backup to this map.
    #[command(after_help = "Example:\n  wayfold store merge map.age")]
    Merge(FromBackup),
    /// Write everything as plain JSON lines that anyone can read.
    #[command(after_help = "Example:\n  wayfold store export map.jsonl")]
    Export {
        /// The file to write.
        file: PathBuf,
        /// Do not ask first.
        #[arg(long)]
        yes: bool,
    },
    /// Destroy the key, then the files.
    #[command(
        after_help = "Example:\n  wayfold store erase\nCopies that you made yourself, such as backups and printed files, stay where they are."
    )]
    Erase {
        /// Do not ask first.
        #[arg(long)]
        yes: bool,
    },
}

/// A backup to read.
#[derive(Clone, Debug, Args)]
pub(crate) struct FromBackup {
    /// The backup.
    pub(crate) file: PathBuf,
    /// Open it with this age identity file.
    #[arg(long, value_name = "FILE")]
    pub(crate) identity: Option<PathBuf>,
    /// Read the backup's passphrase from the first line of this file.
    #[arg(long, value_name = "FILE")]
    pub(crate) backup_passphrase_file: Option<PathBuf>,
}

/// What to do with a script.
#[derive(Clone, Debug, Subcommand)]
pub(crate) enum ScriptCommand {
    /// Find every problem in a script, with file, line and what to do.
    #[command(
        after_help = "Examples:\n  wayfold script check tea.toml\n  wayfold script check --against en mi/first-map.toml"
    )]
    Check {
        /// The scripts: in one file, or flow and words in two.
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
        /// As JSON, for editors.
        #[arg(long)]
        json: bool,
        /// The files are words in another language: find what is missing or has lost a placeholder beside `en`, or
        /// beside this words file.
        #[arg(long, value_name = "LANGUAGE|FILE")]
        against: Option<String>,
    },
    /// Play a script with no map: with answers from a file, or by chance.
    #[command(
        after_help = "Examples:\n  wayfold script play tea.toml --answers answers.txt\n  wayfold script play stuck --walk 100"
    )]
    Play {
        /// The script: a file, or the name of one that is shipped.
        file: PathBuf,
        /// Answers, one a line; commands such as /skip and /back work.
        #[arg(long, value_name = "FILE", required_unless_present = "walk")]
        answers: Option<PathBuf>,
        /// Walk through it by chance this many times, and say what was met and how long it took.
        #[arg(long, value_name = "N", conflicts_with = "answers", value_parser = clap::value_parser!(u32).range(1..=100_000))]
        walk: Option<u32>,
        /// With --walk: the same number gives the same walks.
        #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "walk")]
        seed: u64,
    },
    /// Draw a script's graph.
    #[command(
        after_help = "Examples:\n  wayfold script draw stuck\n  wayfold script draw tea.toml --as svg --out tea.svg"
    )]
    Draw {
        /// The script: a file, or the name of one that is shipped.
        file: PathBuf,
        /// The form.
        #[arg(long = "as", value_name = "FORM", default_value = "mermaid")]
        form: ChartForm,
        /// Write it to this file.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
        /// With --out: in place of the file that is there.
        #[arg(long, requires = "out")]
        replace: bool,
    },
}

/// Forms of a script's graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum ChartForm {
    /// A drawing.
    Svg,
    /// Text for Graphviz.
    Dot,
    /// Text for Mermaid.
    Mermaid,
}

/// Which part to try.
#[derive(Clone, Debug, Subcommand)]
pub(crate) enum TryCommand {
    /// Which safety message each line sets off.
    #[command(after_help = "Example:\n  echo \"the words to look at\" | wayfold try safety")]
    Safety {
        /// One JSON object a line.
        #[arg(long)]
        json: bool,
    },
    /// Whether the entry check would ask about each line.
    #[command(after_help = "Example:\n  echo \"I went for a walk\" | wayfold try entry --field toward")]
    Entry {
        /// The field the lines are meant for.
        #[arg(long, value_name = "FIELD")]
        field: TryField,
        /// One JSON object a line.
        #[arg(long)]
        json: bool,
    },
    /// What is heard in each WAV file.
    #[command(after_help = "Example:\n  wayfold try voice take.wav")]
    Voice {
        /// The recordings.
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
        /// One JSON object a file.
        #[arg(long)]
        json: bool,
    },
}

/// A field, as an argument.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TryField {
    /// What matters.
    Matters,
    /// What shows up.
    Inner,
    /// Away moves.
    Away,
    /// Toward moves.
    Toward,
}
