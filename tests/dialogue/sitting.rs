//! Whole sittings with the shipped scripts.

use wayfold::dialogue::Output;
use wayfold::dialogue::Wait;
use wayfold::map::Field;

use super::player::Player;
use super::player::library;

#[test]
fn a_sitting_goes_from_the_first_prompt_to_the_end() {
    let library = library();
    let mut sitting = Player::begin(&library, "first-map");
    for _ in 0..200 {
        if sitting.prompt.wait == Wait::End {
            break;
        }
        let text = match &sitting.prompt.wait {
            Wait::Entry { .. } if sitting.map.entries().len() % 3 != 2 => "an entry",
            Wait::Pick { .. } => "1",
            _ => "",
        };
        let text = format!(
            "{text}{}",
            if text == "an entry" {
                sitting.map.entries().len().to_string()
            } else {
                String::new()
            }
        );
        sitting.says(&text);
        if sitting.map.field(Field::Toward).count() > 3 {
            sitting.says("");
        }
    }
    assert_eq!(sitting.prompt.wait, Wait::End);
    assert_eq!(sitting.outputs.last(), Some(&Output::Ended));
    assert!(sitting.state.has_ended());
}
