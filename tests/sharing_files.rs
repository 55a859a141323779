//! The files that leave: nothing of their maker in them, the same bytes twice, whole, private, sealed, with letters.

use std::fs;

use expect_test::expect;

use crate::program::Person;
use crate::program::demo_answers;
use crate::sharing::demo;
use crate::sharing::lines;
use crate::sharing::map;
use crate::sharing::share;
use crate::sharing::squeezed;
use crate::sharing::tool;
use crate::sharing::unpacked;

#[test]
fn a_file_says_nothing_of_its_maker() {
    let person = demo();
    let file = share(&person, "quiet.pdf", &["1", "all", "all", "2", "", "yes"]);
    let path = file.to_str().unwrap();
    let tags = tool("exiftool", &["-a", "-G0", "-s", "-PDF:all", "-XMP:all", path]);
    let tags = String::from_utf8(tags).unwrap();
    // The identities are made from the content; two runs give the same.
    let tags: String = tags
        .lines()
        .filter(|line| !line.contains("InstanceID") && !line.contains("DocumentID"))
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" ") + "\n")
        .collect();
    expect![[r"
        [PDF] PDFVersion : 1.7
        [PDF] Linearized : No
        [PDF] PageCount : 1
        [PDF] Language : en
        [PDF] TaggedPDF : Yes
        [PDF] Title : My map
        [PDF] ModifyDate : 2031:05:17 00:00:00Z
        [PDF] CreateDate : 2031:05:17 00:00:00Z
        [XMP] XMPToolkit : xmp-writer
        [XMP] Title : My map
        [XMP] Language : en
        [XMP] ModifyDate : 2031:05:17 00:00:00Z
        [XMP] CreateDate : 2031:05:17 00:00:00Z
        [XMP] Part : 1
        [XMP] NPages : 1
        [XMP] Format : application/pdf
        [XMP] RenditionClass : proof
        [XMP] PDFVersion : 1.7
    "]]
    .assert_eq(&tags);
    let info = String::from_utf8(tool("pdfinfo", &[path])).unwrap();
    let info: String = info
        .lines()
        .filter(|line| !line.starts_with("File size"))
        .map(|line| line.to_owned() + "\n")
        .collect();
    expect![[r"
        Title:           My map
        CreationDate:    Sat May 17 00:00:00 2031 UTC
        ModDate:         Sat May 17 00:00:00 2031 UTC
        Custom Metadata: no
        Metadata Stream: yes
        Tagged:          yes
        UserProperties:  no
        Suspects:        no
        Form:            none
        JavaScript:      no
        Pages:           1
        Encrypted:       no
        Page size:       595.276 x 841.89 pts (A4)
        Page rot:        0
        Optimized:       no
        PDF version:     1.7
    "]]
    .assert_eq(&info);
    let raw = unpacked(&file);
    let folder = person.folder().to_str().unwrap();
    let host = fs::read_to_string("/proc/sys/kernel/hostname").unwrap_or_default();
    for personal in [folder, "quiet", "Auckland", "+12", "+13", host.trim()] {
        assert!(personal.is_empty() || !raw.contains(personal), "{personal}");
    }
    let undated = share(&person, "undated.pdf", &["1", "all", "all", "", "", "yes"]);
    let info = String::from_utf8(tool("pdfinfo", &[undated.to_str().unwrap()])).unwrap();
    assert!(
        !info.contains("Date") && !unpacked(&undated).contains("2031"),
        "{info}"
    );
    let png = person.folder().join("map.png");
    map(&person, &["--as", "png"], Some(&png), "");
    let tags = tool(
        "exiftool",
        &["-a", "-G0", "-s", "-PNG:all", png.to_str().unwrap()],
    );
    let names: Vec<_> = String::from_utf8(tags)
        .unwrap()
        .lines()
        .map(|line| line.split_whitespace().nth(1).unwrap().to_owned())
        .collect();
    expect!["ImageWidth ImageHeight BitDepth ColorType Compression Filter Interlace"]
        .assert_eq(&names.join(" "));
}

#[test]
fn the_same_choice_on_the_same_day_gives_the_same_bytes() {
    let person = demo();
    let twice = |arguments: &[&str], name: &str, input: &str| {
        let made = ["first", "second"].map(|which| {
            let file = person.folder().join(format!("{which}-{name}"));
            map(&person, arguments, Some(&file), input);
            fs::read(file).unwrap()
        });
        assert!(!made[0].is_empty());
        assert!(made[0] == made[1], "{arguments:?} {name}");
    };
    let choice = lines(&["1", "all", "all", "3", "2", "yes"]);
    for name in ["share.pdf", "share.md"] {
        twice(&["--share"], name, &choice);
    }
    for name in ["a.pdf", "a.svg", "a.png", "a.txt", "a.md", "a.json"] {
        twice(&["--appointment"], name, "May we speak of Sundays?\n");
    }
    for name in ["map.pdf", "map.svg", "map.png", "map.txt", "map.md"] {
        twice(&[], name, "");
        twice(&["--blank", "--replace"], name, "");
    }
}

#[cfg(unix)]
#[test]
fn a_file_is_put_in_place_whole_and_for_its_owner_only() {
    use std::os::unix::fs::MetadataExt;
    use std::os::unix::fs::PermissionsExt;

    let person = demo();
    let folder = person.folder().join("files");
    fs::create_dir(&folder).unwrap();
    let real = folder.join("real.pdf");
    fs::write(&real, "an older file").unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o644)).unwrap();
    let older = fs::metadata(&real).unwrap().ino();
    let link = folder.join("link.pdf");
    std::os::unix::fs::symlink(&real, &link).unwrap();
    let said = map(
        &person,
        &["--share"],
        Some(&link),
        &lines(&["1", "all", "", "", "", "yes"]),
    );
    assert!(
        said.contains("It takes the place of the file that is there:"),
        "{said}"
    );
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    let now = fs::metadata(&real).unwrap();
    assert_eq!(now.permissions().mode() & 0o777, 0o600);
    assert_ne!(now.ino(), older, "it was written over in place");
    assert!(fs::read(&real).unwrap().starts_with(b"%PDF"));
    map(&person, &[], Some(&folder.join("map.svg")), "");
    assert_eq!(
        fs::metadata(folder.join("map.svg")).unwrap().permissions().mode() & 0o777,
        0o600
    );
    let mut names: Vec<_> = fs::read_dir(&folder)
        .unwrap()
        .map(|file| file.unwrap().file_name())
        .collect();
    names.sort();
    assert_eq!(names, ["link.pdf", "map.svg", "real.pdf"]);
    let nowhere = folder.join("missing/map.pdf");
    let output = person.run(
        &["--no-passphrase", "map", "--out", nowhere.to_str().unwrap()],
        "",
    );
    assert_eq!(output.status.code(), Some(1));
    let errors = squeezed(&String::from_utf8(output.stderr).unwrap());
    assert!(errors.contains("there is no such file"), "{errors}");
}

#[test]
fn a_sealed_file_opens_with_its_passphrase_only() {
    use std::io::Read;

    let person = demo();
    let open = share(&person, "open.pdf", &["1", "all", "", "", "", "yes"]);
    // A passphrase that is empty, or not the same twice, is asked for again.
    let sealed = [
        "1",
        "all",
        "",
        "",
        "",
        "yes",
        "",
        "otter and reed",
        "otter",
        "otter and reed",
        "otter and reed",
    ];
    let sealed = fs::read(share(&person, "closed.age", &sealed)).unwrap();
    let unseal = |passphrase: &str| {
        let identity = age::scrypt::Identity::new(age::secrecy::SecretString::from(passphrase.to_owned()));
        let decryptor = age::Decryptor::new(&sealed[..]).unwrap();
        let mut bytes = Vec::new();
        let mut reader = decryptor
            .decrypt(std::iter::once(&identity as &dyn age::Identity))
            .ok()?;
        reader.read_to_end(&mut bytes).ok()?;
        Some(bytes)
    };
    assert!(unseal("otter and reed").unwrap() == fs::read(open).unwrap());
    assert!(unseal("otter").is_none());
    assert!(!String::from_utf8_lossy(&sealed).contains("Jonas"));
}

#[test]
fn letters_come_from_the_system_or_are_said_to_be_missing() {
    let person = Person::new();
    person.says(
        &["begin"],
        &demo_answers().replace("the choir\n", "the choir, جوقة \u{f0000}\n"),
    );
    let file = person.folder().join("letters.pdf");
    let said = map(&person, &[], Some(&file), "");
    // A sign of plane 15 has a shape in no font that is not made for it.
    assert!(
        said.contains("I have no letters for:") && said.contains("some signs"),
        "{said}"
    );
    let fonts = String::from_utf8(tool("pdffonts", &[file.to_str().unwrap()])).unwrap();
    let borrowed = fonts.lines().skip(2).any(|line| !line.contains("Atkinson"));
    assert_eq!(borrowed, !said.contains("Arabic"), "{said}\n{fonts}");
    let text = map(&person, &["--as", "text"], None, "");
    assert!(text.contains("the choir, جوقة \u{f0000}"), "{text}");
    let demo = demo();
    assert!(!map(&demo, &["--replace"], Some(&file), "").contains("I have no letters"));
}

#[test]
fn what_can_not_be_made_is_said_before_anything_else() {
    let person = demo();
    for (arguments, says) in [
        (
            &["map", "--share", "--as", "png"][..],
            "A file for someone else can be a PDF or Markdown.",
        ),
        (
            &["map", "--out", "map.docx"],
            "I cannot tell a form from the name map.docx.",
        ),
        (&["map", "--as", "pdf"], "That form is not for a screen."),
        (
            &["map", "--appointment", "--as", "png"],
            "That form is not for a screen.",
        ),
        (
            &["map", "--blank", "--as", "pdf"],
            "That form is not for a screen.",
        ),
        (
            &["map", "--share", "--on", "Sunday"],
            "Sunday is not a date that I can read.",
        ),
    ] {
        let mut all = vec!["--no-passphrase"];
        all.extend(arguments);
        let output = person.run(&all, "");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let errors = squeezed(&String::from_utf8(output.stderr).unwrap());
        assert!(errors.contains(says), "{arguments:?}: {errors}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
    }
}
