"""The invented station: its trials, entries, crews and cuttings, as tables. make_station.py turns them into files.

Nothing here exists: no place, no variety, no endophyte strain, no person. Species, plot sizes and the size of yields are
those of the trade (common practice, no source): tall fescue 4 to 6 ton dry matter an acre and year in four cuttings,
alfalfa 5 to 7, sorghum-sudangrass about 5 in two.
"""

STATION = "QUILLMERE"
ZONE = "America/New_York"
# Rolled by hand once; every number of the demonstration follows from it.
SEED = 20260520
# The scripted day, and two days later, when the bags are dry.
TODAY = "2026-05-20"
TOMORROW = "2026-05-21"
DRY_DAY = "2026-05-22"

SITES = {"home": "Quillmere Home Farm", "knoll": "Harrowknoll Annex"}

# code: variety, endophyte, strain, role, lot, yield against the trial mean, change of that a year, stand it starts with
FESCUE = [
    ("F01", "Brindlewick", "novel", "NQ12", "test", "QM-F-2301", 1.06, 0.01, 96),
    ("F02", "Brindlewick", "free", "", "test", "QM-F-2302", 0.97, -0.05, 94),
    ("F03", "Corrowen", "novel", "NQ12", "test", "QM-F-2307", 1.10, 0.00, 97),
    ("F04", "Dunmarle", "novel", "HV3", "test", "QM-F-2311", 1.02, 0.01, 95),
    ("F05", "Dunmarle", "free", "", "test", "QM-F-2312", 0.93, -0.06, 92),
    ("F06", "Dunmarle", "toxic", "", "test", "QM-F-2313", 1.07, 0.02, 97),
    ("F07", "Eskerby", "free", "", "test", "QM-F-2320", 0.90, -0.07, 90),
    ("F08", "Fennimoor", "novel", "HV3", "test", "QM-F-2324", 1.00, 0.00, 95),
    ("F09", "Garrowdale", "novel", "NQ40", "test", "QM-F-2329", 1.08, -0.02, 96),
    ("F10", "Inkerholt", "free", "", "test", "QM-F-2333", 0.95, -0.04, 93),
    ("F11", "Larkenfell", "novel", "NQ40", "test", "QM-F-2338", 1.03, 0.01, 96),
    ("F12", "Mossgarth", "toxic", "", "check", "QM-F-2341", 1.05, 0.02, 97),
    ("F13", "Ottermarl", "novel", "HV3", "test", "QM-F-2345", 0.94, -0.01, 94),
    ("F14", "Pellowmere", "free", "", "check", "QM-F-2350", 0.88, -0.05, 91),
]
ALFALFA = [
    ("A01", "Averdune", "", "", "test", "QM-A-2401", 1.05, 0.00, 95),
    ("A02", "Bellowick", "", "", "test", "QM-A-2402", 0.97, -0.02, 93),
    ("A03", "Cinderlow", "", "", "test", "QM-A-2403", 1.08, 0.01, 96),
    ("A04", "Dravenholm", "", "", "test", "QM-A-2404", 0.94, -0.03, 92),
    ("A05", "Elmscarth", "", "", "test", "QM-A-2405", 1.01, 0.00, 95),
    ("A06", "Faltermoor", "", "", "test", "QM-A-2406", 1.03, -0.01, 94),
    ("A07", "Tresswold", "", "", "test", "QM-A-2407", 0.91, -0.04, 90),
    ("A08", "Umberlow", "", "", "test", "QM-A-2408", 1.06, 0.01, 95),
    ("A09", "Vintermarl", "", "", "test", "QM-A-2409", 0.99, 0.00, 94),
    ("A10", "Whinscar", "", "", "test", "QM-A-2410", 1.02, -0.01, 95),
    ("A11", "Yarrowick", "", "", "check", "QM-A-2411", 0.96, -0.01, 93),
    ("A12", "Zelkholm", "", "", "check", "QM-A-2412", 0.98, -0.02, 94),
]
SUDANGRASS = [
    ("S01", "Gallowhythe", "", "", "test", "QM-S-2501", 1.07, 0.0, 92),
    ("S02", "Hollinbray", "", "", "test", "QM-S-2502", 0.96, 0.0, 90),
    ("S03", "Ivorscar", "", "", "test", "QM-S-2503", 1.02, 0.0, 88),
    ("S04", "Junkerby", "", "", "test", "QM-S-2504", 0.90, 0.0, 84),
    ("S05", "Kestlemoor", "", "", "test", "QM-S-2505", 1.12, 0.0, 93),
    ("S06", "Lorrendale", "", "", "test", "QM-S-2506", 0.98, 0.0, 91),
    ("S07", "Merrowick", "", "", "test", "QM-S-2507", 1.04, 0.0, 90),
    ("S08", "Nettlehaugh", "", "", "test", "QM-S-2508", 0.93, 0.0, 82),
    ("S09", "Ondermark", "", "", "test", "QM-S-2509", 1.00, 0.0, 89),
    ("S10", "Pruskell", "", "", "test", "QM-S-2510", 1.06, 0.0, 92),
    ("S11", "Quillardy", "", "", "check", "QM-S-2511", 0.97, 0.0, 90),
    ("S12", "Rusketon", "", "", "check", "QM-S-2512", 0.95, 0.0, 87),
]
# A wide test: 24 entries in four blocks, weighed on the harvester's own scale.
RYEGRASS = [
    ("P01", "Abbersedge", "free", "", "test", "QM-P-2501", 1.04, 0.0, 95),
    ("P02", "Bramblecote", "free", "", "test", "QM-P-2502", 0.97, 0.0, 93),
    ("P03", "Corriewhin", "free", "", "test", "QM-P-2503", 1.07, 0.0, 96),
    ("P04", "Dallowmere", "free", "", "test", "QM-P-2504", 0.95, 0.0, 91),
    ("P05", "Eldergarth", "free", "", "test", "QM-P-2505", 1.01, 0.0, 94),
    ("P06", "Fossilthorpe", "free", "", "test", "QM-P-2506", 0.92, 0.0, 88),
    ("P07", "Gannerholt", "free", "", "test", "QM-P-2507", 1.09, 0.0, 97),
    ("P08", "Heronsleigh", "free", "", "test", "QM-P-2508", 0.99, 0.0, 94),
    ("P09", "Ibberdale", "free", "", "test", "QM-P-2509", 1.03, 0.0, 95),
    ("P10", "Jessamoor", "free", "", "test", "QM-P-2510", 0.96, 0.0, 92),
    ("P11", "Kittlescar", "free", "", "test", "QM-P-2511", 1.06, 0.0, 96),
    ("P12", "Lowmarrow", "free", "", "test", "QM-P-2512", 0.94, 0.0, 90),
    ("P13", "Marlipool", "free", "", "test", "QM-P-2513", 1.00, 0.0, 94),
    ("P14", "Noonsbeck", "free", "", "test", "QM-P-2514", 1.08, 0.0, 97),
    ("P15", "Oxterfield", "free", "", "test", "QM-P-2515", 0.91, 0.0, 87),
    ("P16", "Peascarrow", "free", "", "test", "QM-P-2516", 1.02, 0.0, 95),
    ("P17", "Quennelby", "free", "", "test", "QM-P-2517", 0.98, 0.0, 93),
    ("P18", "Rooksedge", "free", "", "test", "QM-P-2518", 1.05, 0.0, 96),
    ("P19", "Sallowmire", "free", "", "test", "QM-P-2519", 0.93, 0.0, 89),
    ("P20", "Thistlegarth", "free", "", "test", "QM-P-2520", 1.01, 0.0, 94),
    ("P21", "Ullerwick", "free", "", "test", "QM-P-2521", 1.10, 0.0, 97),
    ("P22", "Verdanhope", "free", "", "test", "QM-P-2522", 0.97, 0.0, 93),
    ("P23", "Wrenscote", "free", "", "check", "QM-P-2523", 0.96, 0.0, 92),
    ("P24", "Yewbarrow", "free", "", "check", "QM-P-2524", 0.99, 0.0, 94),
]
# A small test of a clover that was broadcast. The last number: the day of May on which one stem in ten flowers.
CLOVER = [
    ("W01", "Applebeck", "", "", "test", "QM-W-2501", 1.04, 0.0, 88, 20),
    ("W02", "Burrowfell", "", "", "test", "QM-W-2502", 0.95, 0.0, 79, 23),
    ("W03", "Cloudmarsh", "", "", "test", "QM-W-2503", 1.08, 0.0, 91, 19),
    ("W04", "Dovenshaw", "", "", "test", "QM-W-2504", 0.98, 0.0, 82, 22),
    ("W05", "Ellermoss", "", "", "test", "QM-W-2505", 1.01, 0.0, 85, 21),
    ("W06", "Foxgarrow", "", "", "test", "QM-W-2506", 0.90, 0.0, 71, 25),
    ("W07", "Gorsewick", "", "", "test", "QM-W-2507", 1.06, 0.0, 89, 18),
    ("W08", "Hopplemere", "", "", "test", "QM-W-2508", 0.93, 0.0, 76, 24),
    ("W09", "Ivenholt", "", "", "test", "QM-W-2509", 1.03, 0.0, 86, 20),
    ("W10", "Juniperlow", "", "", "test", "QM-W-2510", 0.99, 0.0, 83, 21),
    ("W11", "Knapscar", "", "", "check", "QM-W-2511", 0.97, 0.0, 81, 22),
    ("W12", "Lanternbeck", "", "", "check", "QM-W-2512", 1.00, 0.0, 84, 20),
]
# The last number: the day of May on which half of the shoots show half of the head.
ORCHARDGRASS = [
    ("O01", "Brackenhythe", "", "", "test", "QM-O-2501", 1.05, 0.0, 93, 19),
    ("O02", "Coldmarle", "", "", "test", "QM-O-2502", 0.96, 0.0, 88, 22),
    ("O03", "Dapplecote", "", "", "test", "QM-O-2503", 1.02, 0.0, 91, 20),
    ("O04", "Emberlow", "", "", "test", "QM-O-2504", 0.91, 0.0, 80, 25),
    ("O05", "Fernwhistle", "", "", "test", "QM-O-2505", 1.08, 0.0, 94, 18),
    ("O06", "Gildenmoor", "", "", "test", "QM-O-2506", 0.99, 0.0, 90, 21),
    ("O07", "Hazelcrook", "", "", "test", "QM-O-2507", 1.03, 0.0, 92, 23),
    ("O08", "Jarrowfen", "", "", "test", "QM-O-2508", 0.94, 0.0, 84, 24),
    ("O09", "Kelderwick", "", "", "test", "QM-O-2509", 1.00, 0.0, 90, 20),
    ("O10", "Lindermoss", "", "", "test", "QM-O-2510", 1.06, 0.0, 93, 19),
    ("O11", "Mallowstead", "", "", "check", "QM-O-2511", 0.98, 0.0, 89, 21),
    ("O12", "Netherfold", "", "", "check", "QM-O-2512", 0.95, 0.0, 86, 22),
]


def pick(entries, *codes):
    """Some entries of a list, in the list's order."""
    return [e for e in entries if e[0] in codes]


HARVEST = "gross_weight tare_weight bag_number sample_fresh"
# What a cutting asks for besides where samples of it are separated by hand: (trial, year, cutting).
SEPARATED = " separated_fresh part_bag"
SEPARATED_CUTTINGS = {("AL24", 2026, 1)}

# Ratings of two trials on one morning follow each other.
RATING_BEGINS = {"TF24": "08:40", "TF23": "09:00", "AL24": "10:20", "SS25": "08:30", "SS26": "08:30", "OG25": "10:50",
                 "PR25": "10:10", "WC25": "11:30"}

# Each cutting: year, number, day, mean yield in ton an acre (0: not cut yet), mean dry matter in percent, surface of the
# crop. Each rating: code, year, day, measures.
TRIALS = [
    {
        "code": "TF24", "site": "home", "field": "Lower Bank", "title": "Tall fescue, sown 2024",
        "species": "tall_fescue", "sown": "2024-09-12", "entries": FESCUE, "drilled": True,
        "seed_harvested": "2024-06-27",
        "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "31.5", "tare": "1.55",
        "ratings": [("2025-spring-stand", 2025, "2025-03-27", "percent_stand note"),
                    ("2026-spring-stand", 2026, "2026-03-26", "percent_stand note"),
                    ("2026-fall-stand", 2026, "2026-11-10", "percent_stand note")],
        "cuttings": [(2025, 1, "2025-05-08", 2.10, 21.5, "dry"), (2025, 2, "2025-06-26", 1.05, 26.0, "dew"),
                     (2025, 3, "2025-09-04", 0.82, 28.5, "dry"), (2025, 4, "2025-10-30", 0.66, 24.0, "dew"),
                     (2026, 1, "2026-05-07", 2.25, 20.5, "dry"), (2026, 2, "2026-06-25", 0, 0, "")],
    },
    {
        "code": "TF23", "site": "knoll", "field": "Annex West", "title": "Tall fescue, sown 2023",
        "species": "tall_fescue", "sown": "2023-09-14", "seed_harvested": "2023-06-29",
        "entries": pick(FESCUE, "F01", "F02", "F03", "F04", "F05", "F07", "F08", "F09", "F10", "F11", "F12", "F14"),
        "drilled": True, "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "31.5", "tare": "1.4",
        "ratings": [("2025-spring-stand", 2025, "2025-03-31", "percent_stand note")],
        "cuttings": [(2025, 1, "2025-05-13", 1.85, 22.5, "dry"), (2025, 2, "2025-07-01", 0.78, 28.0, "dry"),
                     (2025, 3, "2025-10-14", 0.95, 25.0, "dew"), (2026, 1, "2026-05-12", 1.80, 22.0, "dry"),
                     (2026, 2, "2026-06-30", 0, 0, "")],
    },
    {
        "code": "AL24", "site": "home", "field": "Lower Bank", "title": "Alfalfa, sown 2024",
        "species": "alfalfa", "sown": "2024-08-21", "entries": ALFALFA, "drilled": True,
        "plot": ("20", "5"), "swath": ("17", "3"), "bag_tare": "31.5", "tare": "1.55",
        "ratings": [("2025-spring-stand", 2025, "2025-03-27", "percent_stand note"),
                    ("2026-stems", 2026, "2026-05-20", "stage_counts"),
                    ("2026-after-cut-1", 2026, "2026-05-20", "percent_stand maturity stubble_height note")],
        "cuttings": [(2025, 1, "2025-05-15", 1.95, 20.5, "dry"), (2025, 2, "2025-06-17", 1.55, 22.0, "dry"),
                     (2025, 3, "2025-07-22", 1.30, 23.5, "dry"), (2025, 4, "2025-09-02", 0.98, 22.5, "dew"),
                     (2026, 1, "2026-05-20", 2.05, 20.0, "dry"), (2026, 2, "2026-06-23", 0, 0, "")],
    },
    {
        "code": "SS25", "site": "home", "field": "Mill Piece", "title": "Sorghum-sudangrass, sown 2025",
        "species": "sorghum_sudangrass", "sown": "2025-05-06", "entries": SUDANGRASS, "drilled": True,
        "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "44", "tare": "2.35",
        "ratings": [("2025-seedlings", 2025, "2025-05-28", "percent_stand seedling_vigor note")],
        "cuttings": [(2025, 1, "2025-07-08", 2.60, 16.5, "dry"), (2025, 2, "2025-08-21", 2.20, 18.0, "dry")],
    },
    {
        "code": "SS26", "site": "home", "field": "Mill Piece", "title": "Sorghum-sudangrass, sown 2026",
        "species": "sorghum_sudangrass", "sown": "2026-04-28", "entries": SUDANGRASS, "drilled": True,
        "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "44", "tare": "2.35",
        "ratings": [("2026-seedlings", 2026, "2026-05-20", "percent_stand seedling_vigor note")],
        "cuttings": [(2026, 1, "2026-07-07", 0, 0, ""), (2026, 2, "2026-08-20", 0, 0, "")],
    },
    {
        "code": "OG25", "site": "home", "field": "Upper Bank", "title": "Orchardgrass, sown 2025",
        "species": "orchardgrass", "sown": "2025-09-10", "entries": ORCHARDGRASS, "drilled": True,
        "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "31.5", "tare": "1.55",
        "ratings": [("2026-winter", 2026, "2026-04-01", "winter_injury note"),
                    ("2026-may", 2026, "2026-05-20", "plant_height_stretched ground_cover texture note"),
                    ("2026-frame", 2026, "2026-05-20", "frequency_grid"),
                    ("2026-heading", 2026, "2026-05-20", "heading_date")],
        "cuttings": [(2026, 1, "2026-06-02", 0, 0, "")],
        "scores": [{"code": "texture", "name": "Leaf texture", "lowest": 1, "highest": 9, "step": 1, "best": "low",
                    "low_word": "soft", "high_word": "harsh",
                    "definition": "How harsh leaves feel drawn through the hand.",
                    "source": ""}],
    },
    {
        # The bin hangs on the harvester's scale, which is set to zero with the bin on: nothing is taken off. Bags of the
        # home farm's trials are in one oven: their numbers go on from each other.
        "code": "PR25", "site": "home", "field": "Upper Bank", "title": "Perennial ryegrass, sown 2025",
        "species": "perennial_ryegrass", "sown": "2025-09-03", "entries": RYEGRASS, "drilled": True,
        "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "31.5", "tare": "0", "first_bag": 201,
        "ratings": [("2026-spring-stand", 2026, "2026-04-02", "percent_stand note"),
                    ("2026-before-cut-1", 2026, "2026-05-21", "percent_stand maturity lodging disease note")],
        "cuttings": [(2026, 1, "2026-05-21", 1.70, 19.0, "dry")],
    },
    {
        # Never weighed: how it stands, how high, how healthy, and when it flowers.
        "code": "WC25", "site": "home", "field": "Barn Close", "title": "White clover, sown 2025",
        "species": "white_clover", "sown": "2025-08-19", "entries": CLOVER, "drilled": False,
        "plot": ("20", "5"), "swath": ("18", "3"), "bag_tare": "31.5", "tare": "1.55",
        "ratings": [("2026-winter", 2026, "2026-04-09", "percent_stand winter_injury note"),
                    ("2026-may", 2026, "2026-05-21", "percent_stand plant_height_canopy disease note"),
                    ("2026-flower", 2026, "2026-05-20", "first_flower_date")],
        "cuttings": [],
    },
]
# Plots that a crew counts with the frame on the scripted day, from the first of the path: a plot takes some minutes. So
# too those whose stems are counted by stage, and how many stems of each.
FRAMED = 6
COUNTED = 4
STEMS = 40
# Days of the visits that look for heads and for flowers.
VISITS = {"heading_date": [TODAY, DRY_DAY], "first_flower_date": [TODAY, TOMORROW, DRY_DAY]}
# What became of sample bags of the scripted day, by trial and plot, in the place of their values.
GONE = {("AL24", "305"): {"sample_dry_g": "bag_burst"}}

# What happened to trials, as the crew writes it down on the scripted day: trial, what, day, what is known of it.
# By trial: day of sampling; property, value, unit, extractant. Those of other trials stand in desk/site-notes.csv.
SOIL_LABORATORY = "Lower Valley laboratory"
SOIL_TESTS = {
    "TF24": ("2024-08-02", [("ph", "6.4", "", "water"), ("p", "29", "ppm", "mehlich_3"), ("k", "125", "ppm", "mehlich_3")]),
    "AL24": ("2024-07-30", [("ph", "6.8", "", "water"), ("p", "62", "lb/acre", "mehlich_3"),
                            ("k", "245", "lb/acre", "mehlich_3")]),
}
EVENTS = [("TF24", "fertilizer", "2026-05-19", {"material": "urea", "rate": "60 lb/acre"}),
          ("SS26", "damage", "2026-05-19", {"words": "crows pulled seedlings along the hedge"})]

BLOCKS = 4
CREW = ["KV", "ODL", "TB"]

# (trial, year, cutting, plot): why no weight was had. Words as a crew writes them.
MISSING = {
    ("TF24", 2025, 3, "212"): "bag split, sample lost",
    ("TF24", 2026, 1, "307"): "washed out along the ditch in April",
    ("AL24", 2025, 2, "405"): "cut by the border mower by mistake",
    ("AL24", 2025, 4, "110"): "bag split, sample lost",
    ("SS25", 2025, 2, "203"): "lodged and driven over",
    ("TF23", 2025, 2, "311"): "voles, less than a third of the stand left",
}
# (trial, plot, year): percent stand of a plot that something happened to.
DAMAGED = {("TF24", "307", 2026): 5.0, ("TF23", "311", 2025): 30.0}
# (trial, occasion, plot): a note of a rating.
NOTES = {
    ("TF24", "2025-spring-stand", "106"): "gap in row 3",
    ("TF24", "2026-spring-stand", "307"): "ditch came over, washed out",
    ("AL24", "2026-after-cut-1", "203"): "stones, bar raised",
    ("AL24", "2026-after-cut-1", "409"): "weeds along the east end",
    ("SS25", "2025-seedlings", "304"): "crust after rain",
    ("SS26", "2026-seedlings", "108"): "birds took the first row",
    ("SS26", "2026-seedlings", "310"): "wet spot",
    # What stands in square brackets is a phrase of the program's words, by its code (sync/seal/FORMAT.md).
    ("OG25", "2026-winter", "402"): "snow lay long here",
    ("OG25", "2026-may", "104"): "[photo] 1207",
    ("OG25", "2026-may", "211"): "[birds] first two rows",
    ("PR25", "2026-before-cut-1", "117"): "crown rust",
    ("PR25", "2026-before-cut-1", "304"): "[drift] from the alley",
    ("WC25", "2026-winter", "309"): "water stood here",
    ("WC25", "2026-may", "106"): "slugs",
    ("WC25", "2026-may", "411"): "dock along the east side",
}
