"""The sentences in which entries are told: whole ones with named places, to be translated whole."""

from protoconch.words import phrase

TEMPLATES: dict[str, str] = {
    "egg mass collected": phrase("{who} collected egg mass {mass}."),
    "egg mass collected.site": phrase("{who} collected egg mass {mass} at {site}."),
    "incubator loaded": phrase("{who} loaded {where} with {masses} as batch {batch}."),
    "incubator loaded.eggs": phrase(
        "{who} loaded {where} with {masses} as batch {batch}: {eggs} eggs."
    ),
    "hatched": phrase("{who} saw batch {batch} hatch in {where}."),
    "hatched.veligers": phrase("{who} saw batch {batch} hatch in {where}: {veligers} veligers."),
    "stocked": phrase("{who} stocked {where} with {animals} larvae of batch {batch}."),
    "counted.all": phrase("{who} counted {where}: {animals} alive, all of them counted."),
    "counted.aliquots": phrase(
        "{who} counted {where}: about {animals:,.0f} alive ({low:,.0f} to {high:,.0f})."
    ),
    "counted.unsound": phrase("{who} counted {where}, but the aliquots do not fit its water."),
    "measured": phrase("{who} measured {where}: {mean} mm on the mean."),
    "measured.number": phrase("{who} measured {number} animals of {where}: {mean} mm on the mean."),
    "competence checked": phrase(
        "{who} looked at {looked_at} larvae of {where}: {competent} are ready to settle."
    ),
    "thinned": phrase("{who} thinned {where}: {kept} stay."),
    "thinned.removed": phrase("{who} thinned {where}: {kept} stay, {removed} were taken out."),
    "moved.all": phrase("{who} moved all animals of {where} to {to}."),
    "moved.number": phrase("{who} moved {animals} animals of {where} to {to}."),
    "settled": phrase("{who} counted {animals} settled animals in {where}."),
    "settled.offered": phrase(
        "{who} counted {animals} settled animals of {offered} offered in {where}."
    ),
    "graded": phrase("{who} graded {where}: {classes}."),
    "graded.class": phrase("{animals} of {from_mm} to {to_mm} mm"),
    "graded.class.to": phrase("{animals} of {from_mm} to {to_mm} mm into {to}"),
    "weighed": phrase("{who} weighed {animals} animals of {where}: {grams}, {each} each."),
    "lost.all": phrase("{who} lost all animals of {where}."),
    "lost.all.cause": phrase("{who} lost all animals of {where}: {cause}."),
    "lost.number": phrase("{who} lost {animals} animals of {where}."),
    "lost.number.cause": phrase("{who} lost {animals} animals of {where}: {cause}."),
    "released.release": phrase("{who} released {animals} animals of {where}."),
    "released.release.site": phrase("{who} released {animals} animals of {where} at {site}."),
    "released.handed over": phrase("{who} handed over {animals} animals of {where}."),
    "released.handed over.site": phrase(
        "{who} handed over {animals} animals of {where}, to {site}."
    ),
    "released.kept as parents": phrase(
        "{who} took {animals} animals of {where} to keep as parents."
    ),
    "released.kept as parents.site": phrase(
        "{who} took {animals} animals of {where} to keep as parents at {site}."
    ),
    "released.research": phrase("{who} gave {animals} animals of {where} to research."),
    "released.research.site": phrase(
        "{who} gave {animals} animals of {where} to research at {site}."
    ),
    "water changed": phrase("{who} changed {percent} % of the water of {where}."),
    "water changed.litres": phrase("{who} changed {litres} of the water of {where}."),
    "fed": phrase("{who} fed {where}: {foods}."),
    "fed.litres": phrase("{litres} of {food}"),
    "fed.grams": phrase("{grams} of {food}"),
    "cleaned": phrase("{who} cleaned {where}."),
    "cleaned.with": phrase("{who} cleaned {where} with {with_what}."),
    "cleaned.nowhere": phrase("{who} cleaned."),
    "done": phrase("{who} did the work '{work}'."),
    "done.where": phrase("{who} did the work '{work}' in {where}."),
    "done.skipped": phrase("{who} skipped the work '{work}'."),
    "done.skipped.where": phrase("{who} skipped the work '{work}' in {where}."),
    "inoculated": phrase("{who} started {litres} of {species} in {where}."),
    "inoculated.source": phrase("{who} started {litres} of {species} in {where} from {source}."),
    "harvested": phrase("{who} drew {litres} of culture from {where}."),
    "harvested.refilled": phrase(
        "{who} drew {litres} of culture from {where} and refilled {refilled_l}."
    ),
    "culture counted": phrase("{who} counted {where}: {cells:,.0f} cells/mL."),
    "culture counted.chamber": phrase(
        "{who} counted {where}: {cells:,.0f} cells/mL ({low:,.0f} to {high:,.0f})."
    ),
    "culture counted.found": phrase(
        "{who} counted {where}: {cells:,.0f} cells/mL; it holds {found}."
    ),
    "culture counted.unsound": phrase("{who} counted {where} in a chamber that is not known."),
    "culture ended": phrase("{who} ended the culture in {where}: {reason}."),
    "medium made": phrase("{who} made {litres} of {medium}."),
    "pumped": phrase("{who} pumped {litres} of seawater into {where}."),
    "drawn": phrase("{who} drew {litres} of seawater from {where}."),
    "drawn.purpose": phrase("{who} drew {litres} of seawater from {where} for {purpose}."),
    "read": phrase("{who} read a {quantity} of {value}."),
    "read.where": phrase("{who} read a {quantity} of {value} in {where}."),
    "cartridge changed": phrase("{who} changed the cartridge of the {where}."),
    "cartridge changed.rating": phrase("{who} put a cartridge of {rating_um} µm into the {where}."),
    "lamp changed": phrase("{who} changed the lamp of the {where}."),
    "received": phrase("{who} received {amount} of {item}."),
    "received.expires": phrase("{who} received {amount} of {item}, to be used by {expires}."),
    "used": phrase("{who} used {amount} of {item}."),
    "note": phrase("{who} noted: {text}"),
    "photo": phrase("{who} took a picture."),
    "photo.caption": phrase("{who} took a picture: {caption}"),
    "correction.withdraw": phrase("{who} took an entry back."),
    "correction.withdraw.why": phrase("{who} took an entry back: {why}."),
    "correction": phrase("{who} corrected an entry."),
    "correction.why": phrase("{who} corrected an entry: {why}."),
    "confirmed": phrase("{who} looked at an entry and confirmed it."),
    "confirmed.not": phrase("{who} looked at an entry and found that it does not hold."),
    "with note": phrase("{sentence} Note: {note}"),
    "change.withdraw": phrase("{who} took back what {other} wrote on {when}: “{sentence}”"),
    "change": phrase("{who} corrected what {other} wrote on {when}: {changes}."),
    "change.part": phrase("{name} was {before}, is {after}"),
    "change.part.new": phrase("{name} is {after}"),
    "change.part.gone": phrase("{name} {before} was taken out"),
    "change.confirmed": phrase("{who} confirmed what {other} wrote on {when}: “{sentence}”"),
    "change.not confirmed": phrase(
        "{who} found that what {other} wrote on {when} does not hold: “{sentence}”"
    ),
}
