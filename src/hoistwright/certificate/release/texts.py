"""The sentences of certificates. They stand here in English; the catalogues translate them."""

from __future__ import annotations

from collections.abc import Mapping

from hoistwright.certificate.release.values import Decision
from hoistwright.language import marked

TITLES: Mapping[Decision, str] = {
    "released": marked("Certificate of release"),
    "released with lower rated load": marked("Certificate of release, lower rated load"),
    "returned unrepaired": marked("Statement: returned unrepaired"),
    "condemned": marked("Statement: condemned"),
}
SUBTITLE = marked("Report of thorough examination and test")
UNTESTED = marked("Report of thorough examination")

WORDS: Mapping[Decision, str] = {
    "released": marked("Released"),
    "released with lower rated load": marked("Released with lower rated load"),
    "returned unrepaired": marked("Returned unrepaired"),
    "condemned": marked("Condemned"),
}

SENTENCES: Mapping[Decision, str] = {
    "released": marked(
        "Examined, put right where needed, and proved. Safe to operate up to the rated load stated "
        "here, if used and kept as the maker's manual says."
    ),
    "released with lower rated load": marked(
        "Examined, put right where needed, and proved for less than before. Safe to operate only "
        "up to the lower rated load stated here; the data plate shows it."
    ),
    "returned unrepaired": marked(
        "Not repaired and not released. It is not safe to operate: do not lift with it."
    ),
    "condemned": marked(
        "Beyond repair and made unusable. It must never lift again; its parts must not be used in "
        "another hoist."
    ),
}

OCCASIONS: Mapping[str, str] = {
    "first examination after installation": marked("first examination after installation"),
    "first examination in a new place": marked("first examination in a new place"),
    "within 6 months": marked("within 6 months"),
    "within 12 months": marked("within 12 months"),
    "examination scheme": marked("by an examination scheme"),
    "exceptional circumstances": marked("after exceptional circumstances"),
}

OTHER_WORDS = (
    marked("renewed"), marked("repaired"), marked("altered"), marked("adjusted"),
    marked("is a danger"), marked("could become a danger"),
    marked("fit"), marked("renew"), marked("borderline"), marked("not established"),
    marked("in order"), marked("defect"), marked("not looked"),
    marked("as found and as left"), marked("as left"), marked("as found, since renewed"),
    marked("as found, since repaired"), marked("as found, since altered"),
    marked("as found, since adjusted"),
    marked("elongation"), marked("rise"), marked("loss"), marked("reading"),
    marked("at most"), marked("at least"),
    marked("normal"), marked("heavy"), marked("severe"),
    marked("hand chain hoist"), marked("lever hoist"),
    marked("text read"), marked("from memory: compare with your copy"),
    marked("common practice"), marked("maker's own"),
    marked("Danger"), marked("Defect"), marked("What is needed"), marked("Done"), marked("Work"),
    marked("Batch or certificate"), marked("Remark"), marked("Test"), marked("Load on the hook"),
    marked("Particulars"), marked("Result"), marked("Source"), marked("No."),
    marked("Part and measure"), marked("Mean of readings"), marked("Judged"), marked("Limit"),
    marked("Verdict"), marked("Clause"), marked("Edition"), marked("How known"), marked("Gauge"),
    marked("Name"), marked("Calibrated"), marked("Due"), marked("Part"), marked("revision"),
)  # fmt: skip
"""Words of the record and of the heads of tables, translated where they are printed."""

MEANING = (
    marked(
        "This certificate concerns only the hoist named here, in the state in which it was "
        "examined and tested. Wear and events after that day are not covered."
    ),
    marked(
        "A named competent person decided and signed. The maker's manual and the law of the place "
        "where the hoist is used come first."
    ),
    marked(
        "Name, address, premises, earlier dates and complaint were given by the customer; the shop "
        "has not checked them."
    ),
    marked("It must not be copied in part; the signed file is the certificate, a print is not."),
    marked(
        "U is the expanded uncertainty with its coverage factor k (k = 2 where none is stated). "
        "A conformity statement uses the decision rule of its basis, given below."
    ),
)

CAUTIONS = (
    (
        marked("Suspended loads"),
        marked("Nobody stands, reaches or walks under a load, nor in the line of the chain."),
    ),
    (
        marked("Load brake"),
        marked(
            "Oil or grease on the friction discs can let the load run away: never oil the brake. "
            "If a load creeps or slips, take the hoist out of use."
        ),
    ),
    (
        marked("Before each use"),
        marked("Look at hooks, latches and chain, and try the brake with a light load."),
    ),
)

LOOKED = marked(
    "What is named under “In order” was looked for, or tried, and no fault was found: “cracks” "
    "there means that none was seen. By eye and hand, unless a remark says otherwise."
)

NO_USE = (
    (
        marked("Nobody lifts with it"),
        marked("Not even a light load, and not to try whether it still holds."),
    ),
    (
        marked("Kept apart"),
        marked(
            "Keep it marked and apart from sound hoists, so that nobody takes it for one of them."
        ),
    ),
)
"""Instead of the cautions for use, where the hoist is not released."""

CHECK = (
    marked(
        "This file carries the whole record as the attachment %(name)s and a digital signature "
        "over every byte. The command `hoistwright verify` with the shop's public certificate, or "
        "any reader of signed PDF files, shows who signed and whether anything was changed."
    ),
    marked(
        "The square code holds the essentials with a signature of the shop: number, revision, "
        "decision, serial number, rated load in kg, day of examination, next due, and the first "
        "half of the fingerprint below. A telephone shows them as text; the same command proves "
        "them with `--code`."
    ),
    marked("Only the shop can say whether a newer revision or a withdrawal exists: ask for it."),
)
DRAFT = marked("Draft: not signed, no certificate.")
