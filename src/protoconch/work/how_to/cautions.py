"""Where the work can hurt someone or an animal. Common practice, no source, where none is named."""

from protoconch.words import say

LAW = say("The permit and local law come first: what they say goes before this list.")
DIVING = say(
    "Boats and diving can kill. Go with trained people, watch the weather, and turn back in doubt."
)
WET_MAINS = say(
    "Seawater and mains electricity can kill: unplug pumps and heaters before reaching into water, "
    "and leave repairs to a licensed electrician."
)
LIFTING = say("Full buckets and trays are heavy: lift with two people, on a dry floor.")
ALLERGY = say("Cut and strain seaweed with gloves; some people react to it.")
STORM = say("Do not go out in a storm or under a storm warning.")
WELFARE = say(
    "Animals stay wet, shaded and out of hands that smell of soap, sun cream or insect spray; what "
    "has to die goes the way the permit and the law of animal welfare name."
)
GLASS = say("Glass breaks in wet hands: shoes on, and sweep splinters up, never by hand.")
SHARP = say("Blades, shells and broken edges cut: gloves on, cut away from the hand.")
FLAME = say(
    "A flame beside alcohol sets hands on fire: let the alcohol dry and put its bottle away first."
)
UV = say(
    "Never look at a UV lamp that burns: eyes and skin are hurt in seconds and it shows hours "
    "later. Switch it off and lock it before opening; the lamp is hot and holds mercury."
)
PRESSURE = say("Let the pressure out before a housing is opened: under pressure it bursts.")
BLEACH = say(
    "Chlorine burns skin, eyes and lungs, and with acid or ammonia it makes a gas that kills: "
    "gloves, goggles, open doors; the label and local rules come first."
)
CONFINED = say(
    "Nobody climbs into a reservoir or sump: the air in it can kill. That is work for people "
    "trained and equipped for it, by the local rules."
)
GENERATOR = say(
    "A generator runs outdoors, away from every opening, since its exhaust kills; only a licensed "
    "electrician joins it to the building."
)
