//! Parts of the program that can be shown at a prompt: the map, loops, steps, and the crisis page.

use crate::dialogue::Output;
use crate::dialogue::Show;
use crate::page;
use crate::picture;
use crate::shell::House;
use crate::shell::crisis;
use crate::shell::dates;
use crate::shell::phrases::phrase;

/// Shows one output of the dialogue.
pub(crate) fn output(house: &mut House, output: &Output) {
    match output {
        Output::Say(said) => {
            house.terminal.gap();
            house.terminal.say(&said.text);
        }
        Output::Show(Show::Map) => map(house),
        Output::Show(Show::Loops) => loops(house),
        Output::Show(Show::Steps) => steps(house),
        Output::Show(Show::Numbers) => crisis(house),
        Output::Show(Show::Fitting(_) | Show::Helped(_) | Show::Changes) => {}
        Output::Show(Show::Hiding) => {
            house.terminal.say(&phrase("first.hide"));
            house.terminal.say(&phrase("first.hide-limits"));
        }
        Output::SafetyMessage { level, .. } => {
            house.terminal.gap();
            let region = house.region();
            crisis::message(&mut house.terminal, house.kept.map(), region.as_deref(), *level);
        }
        Output::Record(_) | Output::Pause | Output::Ended => {}
    }
}

/// Shows the map as it is now.
pub(crate) fn map(house: &mut House) {
    let options = page::SheetOptions { date: Some(dates::today()), zone: Some(dates::zone()), ..Default::default() };
    let sheet = page::sheet(house.kept.map(), &options);
    let drawn = picture::terminal::draw(&sheet, &house.terminal.screen());
    house.terminal.gap();
    house.terminal.print(&drawn);
}

/// Shows who to call.
pub(crate) fn crisis(house: &mut House) {
    let region = house.region();
    house.terminal.gap();
    crisis::page(&mut house.terminal, Some(house.kept.map()), region.as_deref());
}

fn loops(house: &mut House) {
    let _ = house;
}

fn steps(house: &mut House) {
    let _ = house;
}
