// What must not happen, and what is answered instead: null pointers, storage that was never started or was moved,
// numbers that mean nothing, stores filled to the last place. Ends with 0 where every answer is right.

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "house.h"
#include "legwork.h"

#define COUNT(array) (sizeof(array) / sizeof(*(array)))

static unsigned checks, wrong;

static void is(legwork_error got, legwork_error want, int line) {
    checks++;
    if (got != want) {
        wrong++;
        printf("line %d: \"%s\", not \"%s\"\n", line, legwork_error_text(got), legwork_error_text(want));
    }
}
static void holds(bool right, int line) {
    checks++;
    if (!right) {
        wrong++;
        printf("line %d: it does not hold\n", line);
    }
}
#define OK(call) is(call, LEGWORK_OK, __LINE__)
#define ANSWERS(want, call) is(call, LEGWORK_##want, __LINE__)
#define HOLDS(what) holds(what, __LINE__)

static legwork_home home, other;
static legwork_workspace workspace, another;

static const legwork_block carriers[] = {{57.0f, 861.0f, 6.0f, 0.0f}};
static const legwork_service service = {{42.0f, 54.0f}, carriers, 1, 0.0f, 0};
static const legwork_point readings[] = {{57.0f, 12.0f}, {861.0f, 7.0f}};
static const legwork_entry entry = {.forward = LEGWORK_TABLE(readings)};
static const legwork_cable cable = {LEGWORK_TABLE(readings), 30.0f, 3.0f, 0.85f, 0.0f, {0.0f, 0.0f}};
static const legwork_splitter splitter = {.legs = 2, .loss = LEGWORK_FLAT(3.5f), .isolation = LEGWORK_FLAT(20.0f)};
static const legwork_coupler coupler = {
    .tap = LEGWORK_FLAT(9.0f), .through = LEGWORK_FLAT(1.5f), .isolation = LEGWORK_FLAT(20.0f)};
static const legwork_equalizer equalizer = {.loss = LEGWORK_FLAT(1.0f)};
static const legwork_filter filter = {.loss = LEGWORK_FLAT(1.0f)};
static const legwork_amplifier amplifier = {.outputs = 2,
                                            .gain = LEGWORK_FLAT(10.0f),
                                            .noise_figure = LEGWORK_FLAT(5.0f),
                                            .isolation = LEGWORK_FLAT(20.0f),
                                            .max_input_total = INFINITY,
                                            .max_output_total = INFINITY,
                                            .max_return_total = INFINITY,
                                            .draw_amps = 0.2f,
                                            .volts_low = 10.0f,
                                            .volts_high = 18.0f,
                                            .dc_power = 1};
static const legwork_inserter inserter = {.loss = LEGWORK_FLAT(1.0f)};
static const legwork_bond bond = {.loss = LEGWORK_FLAT(0.1f)};
static const legwork_conductor conductor = {NAN, NAN};
static const legwork_joint joint = {.loss = LEGWORK_FLAT(0.1f)};
static const legwork_supply supply = {15.0f, 0.5f, 0.0f, 0.0f};
static const legwork_limits nothing = LEGWORK_NO_LIMITS;

static void start(void) { OK(legwork_home_start(&home, &service, &entry)); }

static legwork_port_id only(legwork_part_id part) {
    legwork_port_id port = LEGWORK_ENTRY;
    OK(legwork_port_of(&home, part, LEGWORK_ONLY, 0, &port));
    return port;
}

static bool detail_is(const char *want) {
    char text[LEGWORK_TEXT_SIZE];
    OK(legwork_detail(&home, text, sizeof text));
    return strcmp(text, want) == 0;
}

// A null or crooked pointer in each place where there is one; all else is right.
static void null_pointers(void) {
    uint32_t id;
    legwork_port_id at = LEGWORK_ENTRY;
    char text[8];
    start();
    ANSWERS(BAD_POINTER, legwork_home_start(NULL, &service, &entry));
    ANSWERS(BAD_POINTER, legwork_home_start(&other, NULL, &entry));
    ANSWERS(BAD_POINTER, legwork_home_start(&other, &service, NULL));
    ANSWERS(NOT_STARTED, legwork_terminate(&other, at));
    ANSWERS(BAD_POINTER, legwork_set_service(NULL, &service, &entry));
    ANSWERS(BAD_POINTER, legwork_set_service(&home, NULL, &entry));
    ANSWERS(BAD_POINTER, legwork_set_service(&home, &service, NULL));
    ANSWERS(BAD_POINTER, legwork_set_climate(NULL, LEGWORK_INDOOR, 10.0f, 20.0f));
    ANSWERS(BAD_POINTER, legwork_set_limits(NULL, LEGWORK_MODEM, &nothing));
    ANSWERS(BAD_POINTER, legwork_set_limits(&home, LEGWORK_MODEM, NULL));
    ANSWERS(BAD_POINTER, legwork_set_target(NULL, LEGWORK_MODEM, &nothing));
    ANSWERS(BAD_POINTER, legwork_set_target(&home, LEGWORK_MODEM, NULL));
    ANSWERS(BAD_POINTER, legwork_set_home_network(NULL, 1125.0f, 1675.0f, 50.0f));
    ANSWERS(BAD_POINTER, legwork_join(NULL, 0));
    ANSWERS(BAD_POINTER, legwork_port_of(NULL, 0, LEGWORK_ONLY, 0, &id));
    ANSWERS(BAD_POINTER, legwork_port_of(&home, 0, LEGWORK_ONLY, 0, NULL));
    ANSWERS(BAD_POINTER, legwork_owner_of(NULL, 256, &id, &id, &id));
    ANSWERS(BAD_POINTER, legwork_owner_of(&home, 256, NULL, &id, &id));
    ANSWERS(BAD_POINTER, legwork_owner_of(&home, 256, &id, NULL, &id));
    ANSWERS(BAD_POINTER, legwork_owner_of(&home, 256, &id, &id, NULL));
    ANSWERS(BAD_POINTER, legwork_detail(NULL, text, sizeof text));
    ANSWERS(BAD_POINTER, legwork_detail(&home, NULL, sizeof text));
    ANSWERS(NO_ROOM, legwork_detail(&home, text, 0));
    ANSWERS(BAD_POINTER, legwork_add_cable(NULL, at, &cable, 1.0f, LEGWORK_INDOOR, &id));
    ANSWERS(BAD_POINTER, legwork_add_cable(&home, at, NULL, 1.0f, LEGWORK_INDOOR, &id));
    ANSWERS(BAD_POINTER, legwork_add_cable(&home, at, &cable, 1.0f, LEGWORK_INDOOR, NULL));
    ANSWERS(BAD_POINTER, legwork_add_known_cable(NULL, at, "series-6", 1.0f, LEGWORK_INDOOR, &id));
    ANSWERS(BAD_POINTER, legwork_add_known_cable(&home, at, NULL, 1.0f, LEGWORK_INDOOR, &id));
    ANSWERS(BAD_POINTER, legwork_add_known_cable(&home, at, "series-6", 1.0f, LEGWORK_INDOOR, NULL));
    ANSWERS(BAD_POINTER, legwork_add_known(NULL, at, LEGWORK_SPLITTER, "2-way", &id));
    ANSWERS(BAD_POINTER, legwork_add_known(&home, at, LEGWORK_SPLITTER, NULL, &id));
    ANSWERS(BAD_POINTER, legwork_add_known(&home, at, LEGWORK_SPLITTER, "2-way", NULL));
#define THREE(kind, spec)                                                                                              \
    ANSWERS(BAD_POINTER, legwork_add_##kind(NULL, at, spec, &id));                                                     \
    ANSWERS(BAD_POINTER, legwork_add_##kind(&home, at, NULL, &id));                                                    \
    ANSWERS(BAD_POINTER, legwork_add_##kind(&home, at, spec, NULL))
    THREE(splitter, &splitter);
    THREE(coupler, &coupler);
    THREE(equalizer, &equalizer);
    THREE(filter, &filter);
    THREE(amplifier, &amplifier);
    THREE(inserter, &inserter);
    THREE(joint, &joint);
    THREE(supply, &supply);
    ANSWERS(BAD_POINTER, legwork_add_pad(NULL, at, 3.0f, &id));
    ANSWERS(BAD_POINTER, legwork_add_pad(&home, at, 3.0f, NULL));
    ANSWERS(BAD_POINTER, legwork_add_bond(NULL, at, &bond, &conductor, &id));
    ANSWERS(BAD_POINTER, legwork_add_bond(&home, at, NULL, &conductor, &id));
    ANSWERS(BAD_POINTER, legwork_add_bond(&home, at, &bond, NULL, &id));
    ANSWERS(BAD_POINTER, legwork_add_bond(&home, at, &bond, &conductor, NULL));
    ANSWERS(BAD_POINTER, legwork_add_outlet(NULL, at, LEGWORK_TV, 0, &id));
    ANSWERS(BAD_POINTER, legwork_add_outlet(&home, at, LEGWORK_TV, 0, NULL));
    ANSWERS(BAD_POINTER, legwork_terminate(NULL, at));
    ANSWERS(BAD_POINTER, legwork_terminate((legwork_home *)((char *)&home + 1), at));
    // inside structures
    legwork_cable no_rows = cable;
    no_rows.loss.points = NULL;
    ANSWERS(BAD_POINTER, legwork_add_cable(&home, at, &no_rows, 1.0f, LEGWORK_INDOOR, &id));
    legwork_service no_blocks = service;
    no_blocks.blocks = NULL;
    ANSWERS(BAD_POINTER, legwork_set_service(&home, &no_blocks, &entry));
    legwork_entry no_readings = entry;
    no_readings.forward.points = NULL;
    ANSWERS(BAD_POINTER, legwork_set_service(&home, &service, &no_readings));
    // after all that the entry is still free
    OK(legwork_terminate(&home, at));
}

static void null_pointers_in_reports(void) {
    float mhz[8];
    legwork_figure row[8];
    uint32_t id;
    size_t count;
    char text[8];
    OK(house_build(&home));
    ANSWERS(BAD_POINTER, legwork_check(NULL, &workspace));
    ANSWERS(BAD_POINTER, legwork_check(&home, NULL));
    OK(legwork_check(&home, &workspace));
#define TWO(call, what)                                                                                                \
    ANSWERS(BAD_POINTER, legwork_##call(NULL, what));                                                                  \
    ANSWERS(BAD_POINTER, legwork_##call(&workspace, NULL))
    TWO(verdict, &id);
    legwork_counts counts;
    TWO(count, &counts);
#define ROW(call, ...)                                                                                                 \
    ANSWERS(BAD_POINTER, legwork_##call(NULL, __VA_ARGS__, 8, &count));                                                \
    ANSWERS(BAD_POINTER, legwork_##call(&workspace, __VA_ARGS__, 8, NULL))
    ROW(forward_frequencies, mhz);
    ROW(transmit_frequencies, mhz);
    ROW(outlet_forward, 0, row);
    ROW(outlet_cnr, 0, row);
    ROW(outlet_transmit, 0, row);
    ROW(needs_power, 0, &id);
    ANSWERS(BAD_POINTER, legwork_forward_frequencies(&workspace, NULL, 8, &count));
    ANSWERS(BAD_POINTER, legwork_transmit_frequencies(&workspace, NULL, 8, &count));
    ANSWERS(BAD_POINTER, legwork_outlet_forward(&workspace, 0, NULL, 8, &count));
    ANSWERS(BAD_POINTER, legwork_outlet_cnr(&workspace, 0, NULL, 8, &count));
    ANSWERS(BAD_POINTER, legwork_outlet_transmit(&workspace, 0, NULL, 8, &count));
    ANSWERS(BAD_POINTER, legwork_needs_power(&workspace, 0, NULL, 8, &count));
#define ONE(call, type)                                                                                                \
    do {                                                                                                               \
        type one;                                                                                                      \
        OK(legwork_##call(&workspace, 0, &one));                                                                       \
        ANSWERS(BAD_POINTER, legwork_##call(NULL, 0, &one));                                                           \
        ANSWERS(BAD_POINTER, legwork_##call(&workspace, 0, NULL));                                                     \
        ANSWERS(NO_SUCH, legwork_##call(&workspace, 1000, &one));                                                      \
    } while (0)
    ONE(outlet_figures, legwork_outlet_report);
    ONE(amplifier_figures, legwork_amplifier_report);
    ONE(feed, legwork_feed_report);
    ONE(dc, legwork_dc_report);
    ONE(link, legwork_link_report);
    ONE(finding, legwork_finding_report);
    ANSWERS(BAD_POINTER, legwork_brief(NULL, 0, text, sizeof text));
    ANSWERS(BAD_POINTER, legwork_brief(&workspace, 0, NULL, sizeof text));
    ANSWERS(NO_SUCH, legwork_brief(&workspace, 1000, text, sizeof text));
}

static void storage_that_is_not_what_it_should_be(void) {
    uint32_t id;
    static legwork_home never, moved;
    static legwork_workspace unused, moved_too;
    ANSWERS(NOT_STARTED, legwork_add_pad(&never, LEGWORK_ENTRY, 1.0f, &id));
    ANSWERS(NOT_STARTED, legwork_check(&never, &workspace));
    ANSWERS(NOT_STARTED, legwork_verdict(&unused, &id));
    memset(&never, 0xa5, sizeof never);
    ANSWERS(NOT_STARTED, legwork_add_pad(&never, LEGWORK_ENTRY, 1.0f, &id));
    start();
    OK(legwork_check(&home, &workspace));
    OK(legwork_verdict(&workspace, &id));
    memcpy(&moved, &home, sizeof moved);
    memcpy(&moved_too, &workspace, sizeof moved_too);
    ANSWERS(NOT_STARTED, legwork_add_pad(&moved, LEGWORK_ENTRY, 1.0f, &id));
    ANSWERS(NOT_STARTED, legwork_verdict(&moved_too, &id));
    // a change makes a report stale, even one that fails; a question does not
    ANSWERS(NO_SUCH, legwork_port_of(&home, 0, LEGWORK_ONLY, 0, &id));
    OK(legwork_verdict(&workspace, &id));
    ANSWERS(NO_SUCH, legwork_join(&home, 7));
    ANSWERS(STALE, legwork_verdict(&workspace, &id));
    OK(legwork_check(&home, &workspace));
    OK(legwork_verdict(&workspace, &id));
    OK(legwork_set_climate(&home, LEGWORK_ATTIC, -10.0f, 60.0f));
    ANSWERS(STALE, legwork_verdict(&workspace, &id));
    OK(legwork_check(&home, &workspace));
    OK(legwork_verdict(&workspace, &id));
    OK(legwork_check(&home, &another));
    start();
    ANSWERS(STALE, legwork_verdict(&workspace, &id));
    ANSWERS(STALE, legwork_verdict(&another, &id));
    memset(&home, 0, sizeof home);
    ANSWERS(NOT_STARTED, legwork_verdict(&workspace, &id));
}

static void unknown_numbers(void) {
    uint32_t id, name, output;
    start();
    ANSWERS(BAD_CHOICE, legwork_set_climate(&home, 3, 10.0f, 20.0f));
    HOLDS(detail_is("place"));
    ANSWERS(BAD_CHOICE, legwork_set_limits(&home, 5, &nothing));
    ANSWERS(BAD_CHOICE, legwork_set_target(&home, UINT32_MAX, &nothing));
    ANSWERS(BAD_CHOICE, legwork_add_outlet(&home, LEGWORK_ENTRY, 5, 0, &id));
    ANSWERS(BAD_CHOICE, legwork_add_cable(&home, LEGWORK_ENTRY, &cable, 1.0f, 9, &id));
    ANSWERS(BAD_CHOICE, legwork_add_known(&home, LEGWORK_ENTRY, 5, "2-way", &id));
    ANSWERS(NO_SUCH, legwork_add_known(&home, LEGWORK_ENTRY, LEGWORK_COUPLER, "2-way", &id));
    ANSWERS(NO_SUCH, legwork_add_known(&home, LEGWORK_ENTRY, LEGWORK_SPLITTER, "\xff", &id));
    ANSWERS(NO_SUCH, legwork_add_known_cable(&home, LEGWORK_ENTRY, "", 1.0f, LEGWORK_INDOOR, &id));
    ANSWERS(NO_SUCH, legwork_join(&home, 0));
    ANSWERS(NO_SUCH, legwork_port_of(&home, 0, LEGWORK_ONLY, 0, &id));
    ANSWERS(NO_SUCH, legwork_owner_of(&home, LEGWORK_ENTRY, &id, &name, &output));
    ANSWERS(NO_SUCH, legwork_owner_of(&home, 256, &id, &name, &output));
    static const legwork_port_id ports[] = {1, 255, 256, 257, 65535, 65536, UINT32_MAX};
    for (size_t i = 0; i < COUNT(ports); i++) {
        ANSWERS(NO_SUCH, legwork_add_pad(&home, ports[i], 1.0f, &id));
        ANSWERS(NO_SUCH, legwork_terminate(&home, ports[i]));
        ANSWERS(NO_SUCH, legwork_add_outlet(&home, ports[i], LEGWORK_TV, 0, &id));
        ANSWERS(NO_SUCH, legwork_add_supply(&home, ports[i], &supply, &id));
    }
    OK(legwork_add_amplifier(&home, LEGWORK_ENTRY, &amplifier, &id));
    ANSWERS(BAD_CHOICE, legwork_port_of(&home, id, 8, 0, &name));
    ANSWERS(NO_SUCH, legwork_port_of(&home, id, LEGWORK_ONLY, 0, &name));
    ANSWERS(NO_SUCH, legwork_port_of(&home, id, LEGWORK_OUTPUT, 0, &name));
    ANSWERS(NO_SUCH, legwork_port_of(&home, id, LEGWORK_OUTPUT, 3, &name));
    ANSWERS(NO_SUCH, legwork_port_of(&home, id, LEGWORK_OUTPUT, 257, &name));
    ANSWERS(NO_SUCH, legwork_port_of(&home, 1, LEGWORK_OUTPUT, 1, &name));
    ANSWERS(PORT_TAKEN, legwork_add_pad(&home, LEGWORK_ENTRY, 1.0f, &name));
    legwork_port_id power;
    OK(legwork_port_of(&home, id, LEGWORK_POWER, 0, &power));
    OK(legwork_owner_of(&home, power, &id, &name, &output));
    HOLDS(id == 0 && name == LEGWORK_POWER && output == 0);
    ANSWERS(NO_SUCH, legwork_owner_of(&home, power + 1, &id, &name, &output));
    ANSWERS(DC_ONLY, legwork_add_pad(&home, power, 1.0f, &id));
    ANSWERS(DC_ONLY, legwork_add_outlet(&home, power, LEGWORK_TV, 0, &id));
    OK(legwork_add_supply(&home, power, &supply, &id));
}

static void numbers_out_of_range(void) {
    uint32_t id;
    static const float bad[] = {NAN, INFINITY, -INFINITY, -1.0f};
    start();
    for (size_t i = 0; i < COUNT(bad); i++) {
        ANSWERS(OUT_OF_RANGE, legwork_add_pad(&home, LEGWORK_ENTRY, bad[i], &id));
        ANSWERS(OUT_OF_RANGE, legwork_add_cable(&home, LEGWORK_ENTRY, &cable, bad[i], LEGWORK_INDOOR, &id));
        HOLDS(detail_is("length (m)"));
#define BAD(kind, member)                                                                                              \
    do {                                                                                                               \
        legwork_##kind spec = kind;                                                                                    \
        spec.member = bad[i];                                                                                          \
        ANSWERS(OUT_OF_RANGE, legwork_add_##kind(&home, LEGWORK_ENTRY, &spec, &id));                                   \
    } while (0)
        BAD(splitter, spread_db);
        BAD(splitter, dc_ohms);
        BAD(splitter, loss.flat_db);
        BAD(coupler, tap.flat_db);
        BAD(coupler, through.flat_db);
        BAD(coupler, isolation.flat_db);
        BAD(equalizer, loss.flat_db);
        BAD(filter, loss.flat_db);
        BAD(filter, reflects.high_mhz);
        BAD(inserter, dc_ohms);
        BAD(joint, spread_db);
        BAD(joint, band.low_mhz);
        BAD(amplifier, volts_low);
        BAD(amplifier, volts_high);
        BAD(amplifier, draw_watts);
        BAD(amplifier, draw_amps);
        BAD(amplifier, spread_db);
        BAD(amplifier, noise_figure.flat_db);
        BAD(amplifier, split.return_top_mhz);
        BAD(supply, volts);
        BAD(supply, amps);
        BAD(supply, spread_percent);
        BAD(supply, source_ohms);
        legwork_entry spread = entry;
        spread.spread_db = bad[i];
        ANSWERS(OUT_OF_RANGE, legwork_set_service(&home, &service, &spread));
        legwork_service narrow = service;
        narrow.noise_bandwidth_mhz = bad[i];
        ANSWERS(OUT_OF_RANGE, legwork_set_service(&home, &narrow, &entry));
        legwork_cable lengthless = cable;
        lengthless.per_metres = bad[i];
        ANSWERS(OUT_OF_RANGE, legwork_add_cable(&home, LEGWORK_ENTRY, &lengthless, 1.0f, LEGWORK_INDOOR, &id));
        lengthless = cable;
        lengthless.velocity = bad[i];
        ANSWERS(OUT_OF_RANGE, legwork_add_cable(&home, LEGWORK_ENTRY, &lengthless, 1.0f, LEGWORK_INDOOR, &id));
    }
    static const uint32_t counts[] = {0, 17, 256, UINT32_MAX};
    for (size_t i = 0; i < COUNT(counts); i++) {
        legwork_splitter legs = splitter;
        legs.legs = counts[i];
        ANSWERS(OUT_OF_RANGE, legwork_add_splitter(&home, LEGWORK_ENTRY, &legs, &id));
        legwork_amplifier outputs = amplifier;
        outputs.outputs = counts[i];
        ANSWERS(OUT_OF_RANGE, legwork_add_amplifier(&home, LEGWORK_ENTRY, &outputs, &id));
    }
    legwork_splitter third_leg = splitter;
    third_leg.dc_legs = 4;
    ANSWERS(OUT_OF_RANGE, legwork_add_splitter(&home, LEGWORK_ENTRY, &third_leg, &id));
    legwork_amplifier nan_total = amplifier;
    nan_total.max_input_total = NAN;
    ANSWERS(OUT_OF_RANGE, legwork_add_amplifier(&home, LEGWORK_ENTRY, &nan_total, &id));
    legwork_limits upside_down = nothing;
    upside_down.forward_low = 5.0f;
    upside_down.forward_high = -5.0f;
    ANSWERS(OUT_OF_RANGE, legwork_set_limits(&home, LEGWORK_TV, &upside_down));
    upside_down.forward_low = NAN;
    ANSWERS(OUT_OF_RANGE, legwork_set_limits(&home, LEGWORK_TV, &upside_down));
    ANSWERS(OUT_OF_RANGE, legwork_set_climate(&home, LEGWORK_INDOOR, 20.0f, 10.0f));
    ANSWERS(OUT_OF_RANGE, legwork_set_home_network(&home, 1675.0f, 1125.0f, 50.0f));
    ANSWERS(OUT_OF_RANGE, legwork_set_home_network(&home, 1125.0f, 1675.0f, NAN));
    legwork_service bonded = service;
    bonded.return_channels = UINT32_MAX;
    ANSWERS(OUT_OF_RANGE, legwork_set_service(&home, &bonded, &entry));
    // tables
    static const legwork_point falling[] = {{861.0f, 1.0f}, {57.0f, 2.0f}};
    const legwork_cable table = {LEGWORK_TABLE(falling), 30.0f, 3.0f, 0.85f, 0.0f, {0.0f, 0.0f}};
    ANSWERS(BAD_TABLE, legwork_add_cable(&home, LEGWORK_ENTRY, &table, 1.0f, LEGWORK_INDOOR, &id));
    HOLDS(detail_is("does not rise in frequency"));
    legwork_entry short_entry = entry;
    short_entry.forward.count = 1;
    ANSWERS(BAD_TABLE, legwork_set_service(&home, &service, &short_entry));
    short_entry.forward.count = 0;
    ANSWERS(BAD_TABLE, legwork_set_service(&home, &service, &short_entry));
    legwork_service empty = service;
    empty.block_count = 0;
    ANSWERS(BAD_TABLE, legwork_set_service(&home, &empty, &entry));
    ANSWERS(BAD_TABLE, legwork_home_start(&home, &empty, &entry));
    HOLDS(detail_is("has no carrier"));
    ANSWERS(NOT_STARTED, legwork_terminate(&home, LEGWORK_ENTRY));
}

// To the last place, and one more.
static void parts_are_full(void) {
    uint32_t id = 0;
    legwork_port_id at = LEGWORK_ENTRY;
    start();
    for (unsigned i = 0; i < LEGWORK_PARTS; i++) {
        OK(legwork_add_joint(&home, at, &joint, &id));
        HOLDS(id == i);
        at = only(id);
    }
    ANSWERS(FULL, legwork_add_joint(&home, at, &joint, &id));
    HOLDS(detail_is("parts"));
    OK(legwork_add_outlet(&home, at, LEGWORK_MODEM, 0, &id));
    OK(legwork_check(&home, &workspace));
}

static void ports_are_full(void) {
    uint32_t id;
    legwork_port_id at = LEGWORK_ENTRY;
    legwork_splitter wide = splitter;
    wide.legs = 16;
    start();
    for (unsigned ports = 1; ports + 16 <= LEGWORK_PORTS; ports += 16) {
        OK(legwork_add_splitter(&home, at, &wide, &id));
        OK(legwork_port_of(&home, id, LEGWORK_OUTPUT, 16, &at));
    }
    ANSWERS(FULL, legwork_add_splitter(&home, at, &wide, &id));
    HOLDS(detail_is("ports"));
    wide.legs = (LEGWORK_PORTS - 1) % 16;
    OK(legwork_add_splitter(&home, at, &wide, &id));
    OK(legwork_port_of(&home, id, LEGWORK_OUTPUT, 1, &at));
    ANSWERS(FULL, legwork_add_pad(&home, at, 1.0f, &id));
    OK(legwork_terminate(&home, at));
    OK(legwork_check(&home, &workspace));
}

// As many outlets as there can be, then members until the report's figures are full.
static void outlets_are_full(void) {
    uint32_t id;
    legwork_port_id at = LEGWORK_ENTRY;
    legwork_counts counts;
    start();
    OK(legwork_set_home_network(&home, 1125.0f, 1675.0f, 50.0f));
    for (unsigned i = 0; i < LEGWORK_OUTLETS; i++) {
        legwork_port_id leg;
        OK(legwork_add_known(&home, at, LEGWORK_SPLITTER, "2-way", &id));
        OK(legwork_port_of(&home, id, LEGWORK_OUTPUT, 2, &at));
        OK(legwork_port_of(&home, id, LEGWORK_OUTPUT, 1, &leg));
        OK(legwork_add_outlet(&home, leg, i % 5, 1, &id));
        HOLDS(id == i);
    }
    ANSWERS(FULL, legwork_add_outlet(&home, at, LEGWORK_TV, 0, &id));
    HOLDS(detail_is("outlets"));
    OK(legwork_check(&home, &workspace));
    OK(legwork_count(&workspace, &counts));
    HOLDS(counts.outlets == LEGWORK_OUTLETS && counts.findings > 0 && counts.links == 0);
    legwork_outlet_report report;
    ANSWERS(NO_SUCH, legwork_outlet_figures(&workspace, 4, &report)); // an unused jack
    // 24 outlets of 2 + 2 figures, and 24 * 23 for links
    for (unsigned i = 0; i < LEGWORK_OUTLETS; i++)
        OK(legwork_join(&home, i));
    OK(legwork_check(&home, &workspace));
    OK(legwork_count(&workspace, &counts));
    HOLDS(counts.links == LEGWORK_OUTLETS * (LEGWORK_OUTLETS - 1));
    static const legwork_point many[] = {{57.0f, 9.0f}, {157.0f, 9.0f}, {257.0f, 9.0f}, {861.0f, 7.0f}};
    static const legwork_curve noise = LEGWORK_FLAT(45.0f);
    const legwork_entry longer = {.forward = LEGWORK_TABLE(many), .cnr = &noise};
    OK(legwork_set_service(&home, &service, &longer));
    // now each has 2 + 4 + 4
    ANSWERS(FULL, legwork_check(&home, &workspace));
    HOLDS(detail_is("figures"));
    ANSWERS(NOT_STARTED, legwork_count(&workspace, &counts));
}

static void supplies_are_full(void) {
    uint32_t id, amp;
    legwork_port_id at = LEGWORK_ENTRY, power;
    start();
    for (unsigned i = 0; i < LEGWORK_SUPPLIES; i++) {
        OK(legwork_add_amplifier(&home, at, &amplifier, &amp));
        OK(legwork_port_of(&home, amp, LEGWORK_OUTPUT, 1, &at));
        OK(legwork_port_of(&home, amp, LEGWORK_POWER, 0, &power));
        OK(legwork_add_supply(&home, power, &supply, &id));
    }
    OK(legwork_add_known(&home, at, LEGWORK_INSERTER, "inserter", &id));
    OK(legwork_port_of(&home, id, LEGWORK_DC, 0, &power));
    ANSWERS(FULL, legwork_add_supply(&home, power, &supply, &id));
    HOLDS(detail_is("supplies"));
    OK(legwork_check(&home, &workspace));
    legwork_counts counts;
    OK(legwork_count(&workspace, &counts));
    HOLDS(counts.amplifiers == LEGWORK_AMPLIFIERS && counts.feeds == LEGWORK_SUPPLIES);
    legwork_part_id needed[2];
    size_t count;
    OK(legwork_port_of(&home, amp, LEGWORK_OUTPUT, 2, &at));
    OK(legwork_add_outlet(&home, at, LEGWORK_VOICE_MODEM, 1, &id));
    OK(legwork_check(&home, &workspace));
    ANSWERS(NO_ROOM, legwork_needs_power(&workspace, id, needed, 2, &count));
    HOLDS(count == 4 && needed[0] == 3 && needed[1] == 2);
    // a fifth amplifier finds no room in a report
    OK(legwork_port_of(&home, 4, LEGWORK_RF, 0, &at));
    OK(legwork_add_amplifier(&home, at, &amplifier, &id));
    ANSWERS(FULL, legwork_check(&home, &workspace));
    HOLDS(detail_is("amplifiers"));
}

static void specs_are_full(void) {
    uint32_t id = 0;
    legwork_port_id at = LEGWORK_ENTRY;
    legwork_cable unlike = cable;
    start();
    for (unsigned i = 0; i < LEGWORK_SPECS; i++) {
        unlike.loop_ohms = (float)i;
        OK(legwork_add_cable(&home, at, &unlike, 1.0f, LEGWORK_INDOOR, &id));
        at = only(id);
    }
    unlike.loop_ohms = 100.0f;
    ANSWERS(FULL, legwork_add_cable(&home, at, &unlike, 1.0f, LEGWORK_INDOOR, &id));
    HOLDS(detail_is("cables"));
    for (unsigned i = 0; i < 8; i++) { // a known one always finds its place
        unlike.loop_ohms = (float)i;
        OK(legwork_add_cable(&home, at, &unlike, 2.0f, LEGWORK_ATTIC, &id));
        at = only(id);
    }
    OK(legwork_add_known_cable(&home, at, "rg6", 3.0f, LEGWORK_OUTDOOR, &id));
    at = only(id);
    // rows of tables: two readings and two of the cable, equal, are there already
    static legwork_point rows[LEGWORK_POINTS];
    for (unsigned i = 0; i < LEGWORK_POINTS; i++) {
        rows[i].mhz = 5.0f + (float)i;
        rows[i].db = 1.0f;
    }
    legwork_filter table = {.loss = {rows, LEGWORK_POINTS - COUNT(readings) + 1, 0.0f}};
    ANSWERS(FULL, legwork_add_filter(&home, at, &table, &id));
    HOLDS(detail_is("points"));
    table.loss.count = SIZE_MAX;
    ANSWERS(FULL, legwork_add_filter(&home, at, &table, &id));
    table.loss.count = LEGWORK_POINTS - COUNT(readings);
    // an error in the middle gives back what was kept
    table.band.low_mhz = -1.0f;
    ANSWERS(OUT_OF_RANGE, legwork_add_filter(&home, at, &table, &id));
    table.band.low_mhz = 0.0f;
    OK(legwork_add_filter(&home, at, &table, &id));
    at = only(id);
    OK(legwork_add_filter(&home, at, &table, &id));
    at = only(id);
    table.loss.points = rows + 100;
    table.loss.count = 50;
    OK(legwork_add_filter(&home, at, &table, &id));
    OK(legwork_check(&home, &workspace));
    // services: as many blocks as there are, and no more
    legwork_block blocks[LEGWORK_BLOCKS];
    for (unsigned i = 0; i < LEGWORK_BLOCKS; i++)
        blocks[i] = (legwork_block){60.0f + 10.0f * (float)i, 60.0f + 10.0f * (float)i, 6.0f, 0.0f};
    legwork_service many = service;
    many.blocks = blocks;
    many.block_count = LEGWORK_BLOCKS;
    ANSWERS(FULL, legwork_set_service(&home, &many, &entry));
    HOLDS(detail_is("blocks"));
    for (unsigned i = 0; i < 100; i++) // the same again costs nothing
        OK(legwork_set_service(&home, &service, &entry));
    many.block_count--;
    OK(legwork_set_service(&home, &many, &entry));
}

static void every_kind_of_part(void) {
    uint32_t id;
    legwork_port_id at = LEGWORK_ENTRY;
    static const legwork_curve unlike[] = {LEGWORK_FLAT(3.0f), LEGWORK_TABLE(readings)};
    legwork_splitter legs = splitter;
    legs.leg_losses = unlike;
    legs.dc_legs = 1;
    start();
#define NEXT(add, way, output)                                                                                         \
    OK(add);                                                                                                           \
    OK(legwork_port_of(&home, id, way, output, &at))
    NEXT(legwork_add_filter(&home, at, &filter, &id), LEGWORK_ONLY, 0);
    NEXT(legwork_add_bond(&home, at, &bond, &conductor, &id), LEGWORK_ONLY, 0);
    NEXT(legwork_add_coupler(&home, at, &coupler, &id), LEGWORK_THROUGH, 0);
    NEXT(legwork_add_known(&home, at, LEGWORK_COUPLER, "9-dB", &id), LEGWORK_TAP, 0);
    NEXT(legwork_add_inserter(&home, at, &inserter, &id), LEGWORK_RF, 0);
    NEXT(legwork_add_equalizer(&home, at, &equalizer, &id), LEGWORK_ONLY, 0);
    NEXT(legwork_add_splitter(&home, at, &legs, &id), LEGWORK_OUTPUT, 1);
    NEXT(legwork_add_known(&home, at, LEGWORK_FILTER, "entry-filter", &id), LEGWORK_ONLY, 0);
    NEXT(legwork_add_known(&home, at, LEGWORK_JOINT, "joint", &id), LEGWORK_ONLY, 0);
    NEXT(legwork_add_known_cable(&home, at, "Series-11", 20.0f, LEGWORK_OUTDOOR, &id), LEGWORK_ONLY, 0);
    OK(legwork_add_outlet(&home, at, LEGWORK_MODEM, 0, &id));
    OK(legwork_check(&home, &workspace));
    legwork_counts counts;
    OK(legwork_count(&workspace, &counts));
    bool open = false;
    for (size_t i = 0; i < counts.findings; i++) {
        legwork_finding_report finding;
        OK(legwork_finding(&workspace, i, &finding));
        HOLDS(legwork_code_name(finding.code)[0] != 0);
        if (finding.code == LEGWORK_CODE_OPEN_PORT && finding.at.kind == LEGWORK_AT_PORT) {
            uint32_t name, output;
            OK(legwork_owner_of(&home, finding.at.id, &id, &name, &output));
            open = open || (id == 6 && name == LEGWORK_OUTPUT && output == 2);
        }
    }
    HOLDS(open);
}

static void buffers_that_are_too_small(void) {
    char text[LEGWORK_TEXT_SIZE];
    legwork_figure row[3];
    size_t count = 0;
    OK(house_build(&home));
    OK(legwork_check(&home, &workspace));
    OK(legwork_brief(&workspace, 0, text, sizeof text));
    HOLDS(strcmp(text, "high: 15.3 dBmV at 57 MHz") == 0);
    OK(legwork_brief(&workspace, 0, text, strlen(text) + 1));
    memset(text, '#', sizeof text);
    ANSWERS(NO_ROOM, legwork_brief(&workspace, 0, text, 5));
    HOLDS(memcmp(text, "high\0#", 6) == 0);
    ANSWERS(NO_ROOM, legwork_brief(&workspace, 0, text, 0));
    HOLDS(text[0] == 'h');
    row[2].nominal = 99.0f;
    ANSWERS(NO_ROOM, legwork_outlet_forward(&workspace, 0, row, 2, &count));
    HOLDS(count > 2 && row[2].nominal == 99.0f && row[1].low <= row[1].nominal && row[1].nominal <= row[1].high);
}

static void texts(void) {
    for (legwork_error error = LEGWORK_OK; error <= LEGWORK_OTHER; error++) {
        HOLDS(legwork_error_text(error)[0] != 0);
        for (legwork_error before = LEGWORK_OK; before < error; before++)
            HOLDS(strcmp(legwork_error_text(before), legwork_error_text(error)) != 0);
    }
    HOLDS(strcmp(legwork_error_text(LEGWORK_DC_ONLY), "that port carries DC only") == 0);
    HOLDS(legwork_error_text(LEGWORK_OTHER + 1)[0] != 0 && legwork_error_text(UINT32_MAX)[0] != 0);
    HOLDS(strcmp(legwork_code_name(LEGWORK_CODE_FORWARD_LOW), "forward-low") == 0);
    HOLDS(strcmp(legwork_code_name(LEGWORK_CODE_BEYOND_TABLE), "beyond-table") == 0);
    HOLDS(legwork_code_name(0)[0] == 0 && legwork_code_name(UINT32_MAX)[0] == 0);
    HOLDS(strcmp(legwork_verdict_name(LEGWORK_FAIL), "fail") == 0 && legwork_verdict_name(3)[0] == 0);
}

int main(void) {
    null_pointers();
    null_pointers_in_reports();
    storage_that_is_not_what_it_should_be();
    unknown_numbers();
    numbers_out_of_range();
    parts_are_full();
    ports_are_full();
    outlets_are_full();
    supplies_are_full();
    specs_are_full();
    every_kind_of_part();
    buffers_that_are_too_small();
    texts();
    printf("home: %u bytes, workspace: %u bytes\n", (unsigned)sizeof home, (unsigned)sizeof workspace);
    printf("checks: %u, wrong: %u\n", checks, wrong);
    return wrong == 0 ? 0 : 1;
}
