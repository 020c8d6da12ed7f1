"""The words that stand on every output whatever the trainer writes: a series can add to them and cannot remove them."""

from __future__ import annotations

# Screening follows the three inputs of Riebe et al. 2015 (Med Sci Sports Exerc 47(11):2473-2479);
# the stop signs are those that four public health-service patient sheets have in common. The wording is ours.
NOTICE = (
    (
        "Ask first:",
        "talk to a doctor or another licensed health professional before you start if you have a heart, lung, "
        "metabolic or kidney condition, high blood pressure, chest pain or dizzy spells, are pregnant or gave birth "
        "lately, are injured or in pain, or plan to train harder than you are used to. What they tell you comes before "
        "anything said here.",
    ),
    (
        "Stop at once if",
        "you feel pain or pressure in the chest, neck, jaw or arm, feel dizzy, faint or sick, break into a cold sweat, "
        "get unusually short of breath, notice a racing or uneven heartbeat, a sudden bad headache, weakness, numbness "
        "or trouble speaking or seeing, or a joint hurts sharply. If it does not settle within a few minutes, call "
        "your local emergency number. See a doctor if, in the days after, muscles swell badly or urine turns dark.",
    ),
    (
        "Good to know:",
        "this workout is general information, not medical advice. Go at your own pace, keep breathing, clear the space "
        "around you and check your equipment before you load it. Children train with a qualified adult. In a gym, the "
        "house rules and local safety codes come first.",
    ),
)
NOTICE_SHORT = (
    "General information, not medical advice. With a health condition, in pregnancy, after injury or a long break, "
    "ask a licensed health professional first. Stop if your chest hurts, you feel dizzy, faint or unusually short of "
    "breath, your heart races unevenly, or a joint hurts sharply; if it does not settle within minutes, call your "
    "local emergency number. House rules and local safety codes come first."
)
NOTICE_CAPTION = (
    "General information, not medical advice: ask a licensed professional first if in doubt. "
    "Stop if something hurts or you feel unwell."
)

CLOSING_CAPTION = "Every step and the printable card: {address}"
CLOSING_DESCRIPTION = "Article and printable card: {address}"
# Where the article links no card.
CLOSING_CAPTION_BARE = "Every step: {address}"
CLOSING_DESCRIPTION_BARE = "Article: {address}"
