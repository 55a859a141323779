//! The words of the trade for which WordNet's classes are too coarse: what people feel, aim at, label, reach for. Common
//! practice, no source.
//!
//! Every list is sorted, since it is searched by halves; a test in `lists` holds that.

/// Verbs that happen where no camera reaches, whatever WordNet calls them most.
pub(super) const INNER_VERBS: &[&str] = &[
    "accept", "ache", "agonise", "agonize", "analyse", "analyze", "appreciate", "assume", "believe",
    "brood", "care", "catastrophise", "catastrophize", "compare", "concentrate", "concern", "consider",
    "contemplate", "crave", "daydream", "despair", "detest", "dissociate", "doubt", "dread", "dwell",
    "enjoy", "envision", "envy", "expect", "fantasise", "fantasize", "fear", "feel", "fixate", "focus",
    "forget", "forgive", "fret", "hate", "hesitate", "hope", "hurt", "imagine", "internalise",
    "internalize", "like", "loathe", "long", "love", "mind", "miss", "mull", "need", "notice", "obsess",
    "over-think", "overanalyse", "overanalyze", "overreact", "overthink", "overwhelm", "panic", "ponder",
    "prefer", "realise", "realize", "reflect", "regret", "relax", "remember", "reminisce", "replay",
    "repress", "resent", "ruminate", "second-guess", "seethe", "self-criticise", "self-doubt", "spiral",
    "stew", "stress", "struggle", "suffer", "suppose", "suppress", "think", "trust", "understand",
    "visualise", "visualize", "wallow", "want", "wish", "wonder", "worry", "yearn", "zone",
];

/// Verbs that WordNet files under thinking, feeling or sensing, but that can be seen.
pub(super) const SEEN_VERBS: &[&str] = &[
    "agree", "amuse", "annoy", "apologise", "apologize", "ascertain", "associate", "attend", "book", "bore",
    "bother", "browse", "bully", "calculate", "calm", "celebrate", "challenge", "charm", "check", "cheer",
    "choose", "come", "comfort", "concern", "confront", "confuse", "connect", "console", "count", "court",
    "cry", "cuddle", "date", "deal", "deceive", "decide", "delete", "determine", "diagnose", "disagree",
    "disappoint", "discover", "distract", "disturb", "do", "draft", "elect", "embarrass", "encourage",
    "entertain", "evaluate", "examine", "explore", "face", "figure", "find", "flirt", "fool", "frighten",
    "gaze", "get", "give", "glance", "go", "google", "grade", "grieve", "guess", "handle", "harass", "hear",
    "hold", "honor", "honour", "hug", "humiliate", "hunt", "identify", "ignore", "impress", "include",
    "inspect", "insult", "intimidate", "judge", "keep", "kiss", "laugh", "learn", "lie", "listen", "look",
    "make", "map", "mark", "measure", "meditate", "meet", "memorialize", "memorise", "memorize", "mislead",
    "mock", "monitor", "mourn", "name", "neglect", "observe", "order", "overlook", "peek", "peer", "pester",
    "pick", "place", "plan", "play", "please", "practice", "practise", "pray", "prepare", "put", "rate",
    "re-check", "read", "reassure", "receive", "recheck", "reckon", "recognise", "recognize", "record",
    "refer", "rehearse", "research", "respect", "rest", "review", "revise", "revisit", "run", "sample",
    "scan", "scare", "screen", "scroll", "search", "seduce", "see", "seek", "select", "set", "settle",
    "shame", "show", "skip", "smell", "smile", "sniff", "sob", "solve", "soothe", "sort", "specify", "spy",
    "stalk", "stare", "study", "sulk", "surprise", "survey", "tackle", "take", "taste", "tease", "tempt",
    "terrorise", "test", "thank", "threaten", "touch", "track", "translate", "treat", "trick", "trouble",
    "turn", "upset", "view", "visit", "vote", "watch", "weep", "welcome", "witness", "woo", "work",
    "worship", "write",
];

/// Adjectives of feeling that are no aim.
pub(super) const FELT: &[&str] = &[
    "afraid", "angry", "annoyed", "anxious", "ashamed", "awkward", "bitter", "bored", "burnt-out",
    "depressed", "devastated", "disappointed", "down", "drained", "embarrassed", "empty", "exhausted",
    "frightened", "frustrated", "furious", "guilty", "heartbroken", "helpless", "homesick", "hopeless",
    "hurt", "inadequate", "insecure", "irritable", "irritated", "jealous", "livid", "lonely", "low", "mad",
    "miserable", "nervous", "numb", "overwhelmed", "panicky", "paranoid", "rejected", "resentful",
    "restless", "sad", "scared", "self-conscious", "stressed", "stuck", "stupid", "tense", "terrified",
    "tired", "unhappy", "unloved", "unsure", "unworthy", "upset", "useless", "worried", "worthless",
];

/// Adjectives of feeling that are an aim.
pub(super) const AIM_FELT: &[&str] = &[
    "alive", "at-peace", "balanced", "better", "calm", "calmer", "carefree", "cheerful", "chilled",
    "comfortable", "confident", "content", "energised", "energized", "enough", "excited", "fearless",
    "fine", "free", "fulfilled", "good", "great", "grounded", "happier", "happiest", "happy", "hopeful",
    "inspired", "joyful", "lighter", "loved", "motivated", "normal", "ok", "okay", "optimistic", "peaceful",
    "positive", "proud", "relaxed", "relieved", "safe", "safer", "satisfied", "secure", "serene", "settled",
    "stress-free", "strong", "stronger", "unafraid", "whole", "worthy",
];

/// Feelings and states that are an aim as a noun.
pub(super) const AIM_NOUNS: &[&str] = &[
    "bliss", "calm", "calmness", "clarity", "confidence", "contentment", "energy", "enthusiasm",
    "fulfillment", "fulfilment", "happiness", "joy", "motivation", "optimism", "peace", "pleasure",
    "positivity", "pride", "relaxation", "relief", "satisfaction", "self-belief", "self-confidence",
    "self-esteem", "self-worth", "serenity", "tranquility", "tranquillity", "willpower",
];

/// Adjectives of qualities to stand for.
pub(super) const GOOD_TRAITS: &[&str] = &[
    "accepting", "adventurous", "affectionate", "appreciative", "assertive", "attentive", "authentic",
    "bold", "brave", "caring", "committed", "compassionate", "connected", "considerate", "consistent",
    "courageous", "creative", "curious", "decent", "dedicated", "dependable", "determined", "diligent",
    "disciplined", "dutiful", "easygoing", "empathetic", "empathic", "encouraging", "engaged", "fair",
    "faithful", "flexible", "forgiving", "friendly", "funny", "generous", "gentle", "genuine", "giving",
    "grateful", "hard-working", "hardworking", "helpful", "honest", "honourable", "hospitable", "humble",
    "independent", "just", "kind", "kinder", "loving", "loyal", "mindful", "nurturing", "open",
    "open-minded", "organised", "organized", "patient", "persistent", "playful", "polite", "present",
    "principled", "real", "reliable", "respectful", "responsible", "romantic", "selfless", "sensitive",
    "sincere", "sociable", "spontaneous", "steady", "supportive", "tender", "thoughtful", "tolerant",
    "trustworthy", "truthful", "understanding", "vulnerable", "warm", "welcoming", "wise",
];

/// Adjectives that label a person and show nothing.
pub(super) const BAD_TRAITS: &[&str] = &[
    "aggressive", "antisocial", "argumentative", "arrogant", "avoidant", "awful", "bad", "bitchy", "boring",
    "bossy", "careless", "childish", "clingy", "codependent", "cold", "compulsive", "controlling",
    "critical", "cruel", "defensive", "difficult", "dishonest", "disorganised", "distant", "dramatic",
    "efficient", "fake", "fit", "fitter", "grumpy", "harsh", "healthier", "healthy", "horrible", "hostile",
    "hot-headed", "idle", "immature", "impatient", "inactive", "irrational", "irresponsible", "judgemental",
    "judgmental", "lazy", "manipulative", "mean", "messy", "moody", "nasty", "needy", "normal", "obsessive",
    "passive", "pathetic", "perfectionist", "proactive", "productive", "reckless", "rude", "sarcastic",
    "secretive", "self-destructive", "selfish", "short-tempered", "snappy", "sneaky", "social", "stubborn",
    "successful", "toxic", "unhealthy", "unkind", "unproductive", "unreliable", "unsociable", "weak",
    "weird", "withdrawn",
];

/// Nouns that name a whole bundle of acts.
pub(super) const LABELS: &[&str] = &[
    "acceptance", "addiction", "adulting", "aggression", "alcoholism", "anger-management", "assertiveness",
    "avoidance", "balance", "boundaries", "boundary", "change", "changes", "codependency", "commitment",
    "communication", "comparison", "conflict", "connection", "coping", "defensiveness", "denial",
    "dependence", "dependency", "discipline", "distraction", "distractions", "escapism", "everything",
    "excess", "fitness", "fun", "growth", "habit", "habits", "health", "immaturity", "improvement",
    "impulsivity", "inactivity", "indulgence", "intimacy", "isolation", "issues", "laziness", "life",
    "lifestyle", "mindfulness", "neglect", "numbing", "organisation", "overindulgence", "passivity",
    "people-pleasing", "perfectionism", "problems", "procrastination", "productivity", "progress",
    "recovery", "relationships", "rest-and-recuperation", "routine", "rudeness", "sabotage", "self-care",
    "self-compassion", "self-discipline", "self-improvement", "self-isolation", "self-love",
    "self-sabotage", "selfishness", "sobriety", "structure", "stuff", "things", "vices", "well-being",
    "wellbeing", "wellness", "wholeness", "withdrawal", "workaholism",
];

/// Verbs that name a whole bundle of acts.
pub(super) const LABEL_VERBS: &[&str] = &[
    "adapt", "adult", "behave", "change", "cope", "detach", "disconnect", "escape", "evolve", "fail",
    "flourish", "function", "grow", "heal", "improve", "integrate", "isolate", "manage", "mature",
    "misbehave", "overcompensate", "overdo", "people-please", "procrastinate", "progress", "recover",
    "sabotage", "self-care", "self-destruct", "self-isolate", "self-medicate", "self-sabotage", "socialise",
    "socialize", "struggle", "succeed", "survive", "thrive", "withdraw",
];

/// Things too big for one act.
pub(super) const BIG: &[&str] = &[
    "act", "attitude", "body", "career", "diet", "everything", "finances", "fitness", "future", "habits",
    "head", "health", "it", "life", "lifestyle", "lives", "marriage", "mess", "mindset", "myself",
    "outlook", "place", "relationship", "relationships", "stuff", "things", "thinking", "work-life",
    "world",
];

/// Verbs that set something right.
pub(super) const FIX: &[&str] = &[
    "balance", "better", "change", "conquer", "control", "fix", "heal", "improve", "manage", "master",
    "mend", "organise", "organize", "overhaul", "rebuild", "repair", "save", "sort", "start", "transform",
    "turn",
];

/// What is done to one: others' doing.
pub(super) const PASSIVE: &[&str] = &[
    "accepted", "acknowledged", "admired", "adored", "appreciated", "approved", "believed", "cared",
    "celebrated", "cherished", "desired", "forgiven", "heard", "included", "invited", "liked", "listened",
    "looked", "loved", "missed", "needed", "noticed", "popular", "praised", "recognised", "recognized",
    "remembered", "respected", "seen", "taken", "thanked", "treated", "trusted", "understood", "validated",
    "valued", "wanted",
];

/// What others give.
pub(super) const APPROVAL: &[&str] = &[
    "acceptance", "admiration", "applause", "appreciation", "approval", "attention", "popularity",
    "recognition", "reputation", "validation",
];

/// Verbs that end when they are done.
pub(super) const GOAL_VERBS: &[&str] = &[
    "achieve", "attain", "beat", "become", "break", "buy", "climb", "complete", "earn", "emigrate", "find",
    "finish", "gain", "get", "graduate", "have", "hit", "land", "lose", "make", "marry", "move", "obtain",
    "own", "pass", "pay", "publish", "qualify", "quit", "reach", "retire", "run", "save", "score", "secure",
    "sell", "start", "travel", "win", "write",
];

/// Things that are got once.
pub(super) const GOAL_NOUNS: &[&str] = &[
    "10k", "5k", "a-levels", "album", "apartment", "award", "baby", "belt", "boat", "body", "bonus", "book",
    "boyfriend", "business", "car", "certificate", "championship", "children", "citizenship", "company",
    "competition", "contract", "course", "cup", "deal", "debt", "debts", "degree", "deposit", "diploma",
    "dissertation", "dress", "election", "exam", "exams", "figure", "flat", "followers", "game", "gcse",
    "gcses", "girlfriend", "grade", "grades", "half-marathon", "holiday", "home", "house", "husband", "job",
    "kg", "kgs", "kids", "kilo", "kilos", "lbs", "league", "licence", "license", "loan", "marathon",
    "master's", "masters", "medal", "medical", "mile", "million", "millionaire", "millions", "mortgage",
    "muscle", "muscles", "novel", "partner", "passport", "pension", "phd", "place", "pounds", "promotion",
    "qualification", "race", "raise", "record", "ring", "rise", "salary", "scholarship", "six-pack",
    "stone", "subscribers", "team", "test", "thesis", "title", "trophy", "visa", "wedding", "weight",
    "wife",
];

/// What is a goal by itself.
pub(super) const GOALS: &[&str] = &[
    "achievement", "achievements", "degree", "diploma", "graduation", "homeownership", "marriage",
    "mortgage-free", "perfection", "pregnancy", "promotion", "qualifications", "retirement", "success",
    "victory", "winning",
];

/// What is a means to something.
pub(super) const MEANS: &[&str] = &[
    "cash", "clothes", "fame", "finances", "fortune", "income", "looks", "luxury", "money", "possessions",
    "power", "prestige", "property", "riches", "salary", "savings", "status", "wealth",
];

/// States to reach, as a complement of "be".
pub(super) const END_STATES: &[&str] = &[
    "debt-free", "famous", "fit", "fitter", "fluent", "graduated", "married", "millionaire",
    "mortgage-free", "number", "perfect", "pregnant", "promoted", "qualified", "retired", "rich", "skinny",
    "slim", "slimmer", "sober", "successful", "thin", "thinner", "wealthy",
];

/// People that WordNet's class alone would miss.
pub(super) const ROLES: &[&str] = &[
    "auntie", "bestie", "boss", "brother-in-law", "colleague", "colleagues", "coworkers", "daddy", "ex",
    "ex-boyfriend", "ex-girlfriend", "ex-husband", "ex-wife", "exes", "family", "father-in-law", "fiance",
    "fiancee", "flatmate", "flatmates", "friends", "godson", "gran", "grandad", "grandchildren",
    "grandkids", "grandma", "grandpa", "granny", "housemate", "hubby", "in-laws", "inlaws", "kid", "kids",
    "landlord", "manager", "mate", "mates", "mil", "missus", "mother-in-law", "mum", "mummy", "nana",
    "neighbour", "neighbours", "other-half", "parents", "partner", "roommate", "sister-in-law", "stepdad",
    "stepmom", "stepmum", "stepson", "team", "teammates", "teen", "teenager", "therapist", "toddler",
    "twins", "workmates",
];

/// Nouns of the world outside that WordNet's class alone would miss.
pub(super) const OUTSIDE: &[&str] = &[
    "appointment", "appointments", "bank", "bill", "bills", "bullying", "calls", "car", "childcare",
    "chores", "christmas", "clients", "college", "commute", "court", "covid", "crowd", "crowds",
    "customers", "deadline", "deadlines", "debt", "debts", "diagnosis", "divorce", "economy", "email",
    "emails", "evenings", "exam", "exams", "facebook", "flat", "homework", "hospital", "house", "housework",
    "hr", "inbox", "instagram", "internet", "interview", "job", "laptop", "letters", "marriage", "media",
    "meetings", "mess", "monday", "mondays", "money", "mortgage", "music", "neighbourhood", "neighbours",
    "news", "nights", "noise", "office", "operation", "pandemic", "phone", "politics", "poverty",
    "prognosis", "rain", "redundancy", "relationship", "rent", "salary", "savings", "scan", "school",
    "sunday", "sundays", "surgery", "texts", "traffic", "unemployment", "uni", "university", "visa",
    "wages", "war", "weather", "wedding", "weekend", "weekends", "winter", "work", "workload",
];

/// Words of an urge.
pub(super) const PULLS: &[&str] = &[
    "compulsion", "crave", "craving", "cravings", "desire", "desires", "impulse", "itch", "itching",
    "longing", "need", "needing", "pull", "temptation", "tempted", "urge", "urges", "wanna", "want",
    "wanting",
];

/// Words of a memory.
pub(super) const RECALLS: &[&str] = &[
    "childhood", "flashback", "flashbacks", "memories", "memory", "nightmare", "nightmares", "recall",
    "recalling", "reliving", "remember", "remembered", "remembering", "replaying",
];

/// Words that make an entry one from inside.
pub(super) const MIND: &[&str] = &[
    "assumptions", "attitude", "belief", "beliefs", "brain", "chest", "critic", "doubt", "doubts", "dream",
    "dreams", "expectations", "fear", "fears", "feeling", "feelings", "flashback", "flashbacks", "head",
    "heart", "idea", "image", "images", "imagination", "memories", "memory", "mind", "mindset", "picture",
    "self-talk", "sense", "stomach", "stories", "story", "thinking", "thought", "thoughts", "throat",
    "urge", "urges", "voice", "worries", "worry",
];

/// Acts that show in the body without being chosen.
pub(super) const INNER_ACTS: &[&str] = &[
    "ache", "be", "blank", "blush", "boil", "break", "breathe", "burn", "burst", "buzz", "choke", "churn",
    "clench", "collapse", "crash", "crave", "cringe", "crumble", "cry", "die", "do", "drift", "drown",
    "explode", "faint", "fall", "flinch", "float", "flutter", "freak", "freeze", "gasp", "get", "go",
    "have", "hold", "hurt", "hyperventilate", "implode", "knot", "lose", "melt", "numb", "overheat", "pace",
    "palpitate", "panic", "pound", "pulse", "race", "ring", "shake", "shaking", "shiver", "shrink", "shut",
    "sicken", "sink", "snap", "sob", "spin", "spiral", "stiffen", "suffocate", "swallow", "sweat", "tear",
    "throb", "tighten", "tingle", "tire", "tremble", "turn", "twitch", "vomit", "yawn", "zone",
];

/// How often or when: what makes an act under what matters a plan.
pub(super) const WAYS: &[&str] = &[
    "daily", "every", "friday", "fridays", "monday", "mondays", "monthly", "nightly", "o'clock", "saturday",
    "saturdays", "sunday", "sundays", "thursday", "thursdays", "today", "tomorrow", "tonight", "tuesday",
    "tuesdays", "twice", "wednesday", "wednesdays", "weekend", "weekends", "weekly", "yesterday",
];

/// What people stop taking.
pub(super) const SUBSTANCES: &[&str] = &[
    "alcohol", "arguing", "beer", "booze", "caffeine", "cake", "cannabis", "carbs", "chocolate",
    "cigarettes", "coffee", "complaining", "crisps", "drama", "drink", "drinking", "drugs", "excuses",
    "fags", "fighting", "gambling", "junk", "lies", "lying", "meat", "moaning", "nicotine", "phone", "porn",
    "rows", "screen", "screens", "scrolling", "shouting", "smoking", "snacking", "snacks", "social",
    "sugar", "swearing", "sweets", "takeaways", "vapes", "vodka", "weed", "wine",
];

/// Signs in the body that are no noun of the body.
pub(super) const BODY_WORDS: &[&str] = &[
    "ache", "aching", "breathless", "butterflies", "churning", "cold", "cramp", "cramps", "dizziness",
    "dizzy", "exhausted", "exhaustion", "fatigue", "fog", "headache", "heartbeat", "heaviness", "heavy",
    "hot", "knot", "lump", "migraine", "nausea", "nauseous", "numb", "pain", "palpitations", "pounding",
    "pressure", "pulse", "racing", "restless", "shaking", "shaky", "sick", "sore", "stiff", "sweating",
    "sweaty", "tense", "tension", "tight", "tightness", "tingling", "tired", "trembling",
];

/// Nouns of qualities to stand for, whatever their first sense in WordNet is.
pub(super) const QUALITIES: &[&str] = &[
    "authenticity", "bravery", "compassion", "courage", "creativity", "curiosity", "decency", "dedication",
    "determination", "dignity", "empathy", "fairness", "forgiveness", "generosity", "gentleness",
    "gratitude", "helpfulness", "honesty", "humility", "integrity", "kindness", "love", "loyalty",
    "openness", "patience", "perseverance", "playfulness", "reliability", "respect", "responsibility",
    "sincerity", "tenderness", "thoughtfulness", "tolerance", "truthfulness", "warmth",
];

/// Names of troubles of the mind.
pub(super) const DISORDERS: &[&str] = &[
    "adhd", "anorexia", "autism", "bipolar", "bpd", "bulimia", "burnout", "disorder", "disorders",
    "insomnia", "ocd", "phobia", "ptsd", "syndrome", "trauma",
];

/// Nouns of feeling whose first sense in WordNet is another.
pub(super) const FEELING_NOUNS: &[&str] = &[
    "anger", "anxiety", "boredom", "depression", "despair", "dread", "embarrassment", "envy", "fear",
    "fury", "grief", "guilt", "heartbreak", "helplessness", "hopelessness", "horror", "hurt", "insecurity",
    "jealousy", "loneliness", "misery", "numbness", "overwhelm", "panic", "rage", "regret", "resentment",
    "sadness", "self-criticism", "self-doubt", "self-hatred", "self-loathing", "self-pity", "shame",
    "sorrow", "stress", "tension", "terror", "worry", "worthlessness",
];
