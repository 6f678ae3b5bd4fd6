"""Words of the trade that one English has and the other has not, as a reader knows them; written by hand, beside the product's own lists."""

from __future__ import annotations

import re

_PAIRS = """
miter mitre | miters mitres | mitered mitred | mitering mitring | molding moulding | moldings mouldings | molded moulded | color colour | colors colours
colored coloured | gray grey | grayish greyish | center centre | centers centres | centered centred | centering centring | centerline centreline
vapor vapour | vapors vapours | odor odour | odorless odourless | favor favour | favorable favourable | favorite favourite | neighbor neighbour
neighbors neighbours | neighboring neighbouring | labor labour | harbor harbour | honor honour | behavior behaviour | rigor rigour | vigor vigour
fiber fibre | fibers fibres | fiberboard fibreboard | fiberglass fibreglass | meters metres | millimeter millimetre | millimeters millimetres | centimeter centimetre
liter litre | liters litres | caliber calibre | somber sombre | theater theatre | plow plough | plowed ploughed | leveler leveller | levelers levellers
leveled levelled | leveling levelling | beveled bevelled | beveling bevelling | doweled dowelled | doweling dowelling | paneled panelled
paneling panelling | labeled labelled | labeling labelling | traveled travelled | traveling travelling | modeled modelled | channeled channelled
penciled pencilled | swiveled swivelled | swiveling swivelling | chiseled chiselled | canceled cancelled | marvelous marvellous | woolen woollen
skillful skilful | fulfill fulfil | fulfills fulfils | installment instalment | gluing glueing | aging ageing | judgment judgement | caster castor
casters castors | catalog catalogue | catalogs catalogues | analog analogue | dialog dialogue | defense defence | offense offence | aluminum aluminium
sulfur sulphur | ax axe | curb kerb | cozy cosy | checkered chequered | jewelry jewellery | oxidize oxidise | oxidizes oxidises | oxidized oxidised
organize organise | organizer organiser | recognize recognise | minimize minimise | equalize equalise | stabilize stabilise | analyze analyse
toward towards | afterward afterwards | counterclockwise anticlockwise | rabbet rebate | rabbets rebates | rabbeted rebated | rabbeting rebating
dado housing | dadoes housings | dadoed housed | box_joint comb_joint | box_joints comb_joints | lumber timber | lumberyard timberyard
drywall plasterboard | sheetrock plasterboards | particleboard chipboard | mineral_spirits white_spirit | paint_thinner white_spirits
denatured_alcohol methylated_spirit | rubbing_alcohol methylated_spirits | wrench spanner | wrenches spanners | vise vice | vises vices
C-clamp G-cramp | C-clamps G-cramps | utility_knife trimming_knife | shop_vacuum workshop_vacuum | dust_collector dust_extractor
flashlight torch | thumbtack drawing_pin | garnet_paper glasspaper | keyhole_saw padsaw | allen_wrench allen_key | sheet_goods sheet_materials
lag_screw coach_screw | lag_screws coach_screws | carriage_bolt coach_bolt | carriage_bolts coach_bolts | finish_nail lost-head_nail
finish_nails lost-head_nails | home_center builders'_merchant | hardware_store ironmonger's | trash rubbish | garbage skip
electrical_outlet mains_socket | extension_cord extension_lead | power_cord mains_lead | baseboard skirting_board | closet built-in_cupboard
faucet tap | apartment flat_to_let | sidewalk pavement | elevator lift_shaft | dresser chest_of_drawers | straight_bit straight_cutter
router_bit router_cutter | router_bits router_cutters | flush-trim_bit flush-trim_cutter | dado_set grooving_head | dado_stack trenching_head
bevel_gauge sliding_bevel | quarter_round quadrant | edge_banding edging_strip | basswood lime_wood | kerosene paraffin | masonite hardboard
acrylic_glass perspex | the_store the_ironmonger | stores_keep shops_keep | spackle wall_filler | lumber_yard timber_yard | rough_lumber rough-sawn_timber
story_pole storey_rod | inquire enquire | draftsman draughtsman | drafty draughty | mold mould | plywood_hutch plywood_dresser
"""
PAIRS = tuple(
    tuple(word.replace("_", " ") for word in pair.split())
    for line in _PAIRS.split("\n")
    for pair in line.split("|")
    if pair.strip()
)
"""American word and British word."""
BOTH = {"tap", "skip", "pavement", "paraffin", "hardboard", "rubbish", "curb", "labor", "favor", "the store"}
"""Words that the other side knows too, in another sense: a tap for threads, a light tap."""


def of_the_other(language: str) -> re.Pattern[str]:
    """Any word that a booklet in this English must not have."""
    words = {pair[language == "en-US"] for pair in PAIRS} - BOTH
    listed = "|".join(r"\s+".join(map(re.escape, word.split())) for word in sorted(words, key=len, reverse=True))
    return re.compile(rf"(?<!\w)(?:{listed})(?!\w)", re.IGNORECASE)
