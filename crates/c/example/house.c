// The house, part by part. What it is made of is constant, hence in flash; all of it is invented.

#include <stdbool.h>

#include "house.h"

#define FEET(feet) ((feet) * 0.3048f)
#define COUNT(array) (sizeof(array) / sizeof(*(array)))
#define VOUCHED {5.0f, 1002.0f}
#define SPLIT {42.0f, 54.0f}
#define PER_100_FEET FEET(100.0f)

// What was read at the entry.
static const legwork_block carriers[] = {{57.0f, 549.0f, 6.0f, 0.0f}, {555.0f, 861.0f, 6.0f, -1.0f}};
static const legwork_point levels_read[] = {{57.0f, 13.5f}, {453.0f, 11.0f}, {861.0f, 8.5f}};
static const legwork_point noise_read[] = {{57.0f, 46.0f}, {861.0f, 44.5f}};
static const legwork_point sent[] = {{10.0f, 36.0f}, {24.0f, 36.8f}, {39.0f, 38.0f}};
static const legwork_curve noise_curve = LEGWORK_TABLE(noise_read);
static const legwork_curve sent_curve = LEGWORK_TABLE(sent);
static const legwork_service service = {SPLIT, carriers, COUNT(carriers), .return_channels = 4};
static const legwork_entry entry = {LEGWORK_TABLE(levels_read), &noise_curve, &sent_curve, .spread_db = 0.5f};

// What it is wired with.
static const legwork_point drop_loss[] = {{5.0f, 0.55f},  {55.0f, 1.52f},  {210.0f, 2.95f},  {500.0f, 4.55f},
                                          {750.0f, 5.6f}, {1000.0f, 6.5f}, {1220.0f, 7.2f}, {1700.0f, 8.6f}};
static const legwork_cable drop = {LEGWORK_TABLE(drop_loss),
                                   .per_metres = PER_100_FEET,
                                   .loop_ohms = 3.4f,
                                   .velocity = 0.85f,
                                   .spread_percent = 4.0f};
static const legwork_point inside_loss[] = {{5.0f, 0.8f},   {55.0f, 1.95f},   {210.0f, 3.7f},
                                            {500.0f, 5.75f}, {1000.0f, 8.15f}, {1700.0f, 10.8f}};
static const legwork_cable inside = {LEGWORK_TABLE(inside_loss),
                                     .per_metres = PER_100_FEET,
                                     .loop_ohms = 5.1f,
                                     .velocity = 0.83f,
                                     .spread_percent = 6.0f};
static const legwork_point two_way_loss[] = {{5.0f, 3.4f}, {300.0f, 3.6f}, {861.0f, 4.1f}, {1700.0f, 6.0f}};
static const legwork_point two_way_isolation[] = {{5.0f, 28.0f}, {861.0f, 22.0f}, {1700.0f, 16.0f}};
static const legwork_splitter two_way = {.legs = 2,
                                         .loss = LEGWORK_TABLE(two_way_loss),
                                         .spread_db = 0.3f,
                                         .isolation = LEGWORK_TABLE(two_way_isolation),
                                         .band = VOUCHED};
static const legwork_point leg_1[] = {{5.0f, 3.5f}, {861.0f, 4.2f}, {1700.0f, 6.2f}};
static const legwork_point leg_2[] = {{5.0f, 6.8f}, {861.0f, 7.6f}, {1700.0f, 9.9f}};
static const legwork_point leg_3[] = {{5.0f, 6.9f}, {861.0f, 7.7f}, {1700.0f, 10.0f}};
static const legwork_curve legs[] = {LEGWORK_TABLE(leg_1), LEGWORK_TABLE(leg_2), LEGWORK_TABLE(leg_3)};
static const legwork_splitter three_way = {.legs = COUNT(legs),
                                           .leg_losses = legs,
                                           .spread_db = 0.4f,
                                           .isolation = LEGWORK_FLAT(21.0f),
                                           .band = VOUCHED};
static const legwork_point equalizer_loss[] = {
    {5.0f, 4.8f}, {54.0f, 4.4f}, {450.0f, 2.1f}, {1000.0f, 0.8f}, {1700.0f, 1.4f}};
static const legwork_equalizer equalizer = {LEGWORK_TABLE(equalizer_loss), .spread_db = 0.2f, .band = VOUCHED};
static const legwork_point filter_loss[] = {
    {5.0f, 0.4f}, {861.0f, 0.7f}, {1002.0f, 1.2f}, {1125.0f, 38.0f}, {1700.0f, 42.0f}};
static const legwork_filter entry_filter = {
    LEGWORK_TABLE(filter_loss), .spread_db = 0.1f, .reflects = {1125.0f, 1675.0f}};
static const legwork_joint barrel = {LEGWORK_FLAT(0.1f), .dc_ohms = 0.02f};
static const legwork_bond block = {.loss = LEGWORK_FLAT(0.12f)};
static const legwork_conductor conductor = {14.0f, FEET(12.0f)};
static const legwork_point gain[] = {{54.0f, 3.2f}, {450.0f, 3.6f}, {1002.0f, 4.0f}};
static const legwork_curve return_gain = LEGWORK_FLAT(-1.2f);
static const legwork_point passive_loss[] = {{5.0f, 3.7f}, {1002.0f, 4.3f}, {1700.0f, 6.5f}};
static const legwork_curve passive = LEGWORK_TABLE(passive_loss);
static const legwork_curve network_loss = LEGWORK_FLAT(8.0f);
static const legwork_amplifier amplifier = {.outputs = 4,
                                            .gain = LEGWORK_TABLE(gain),
                                            .return_gain = &return_gain,
                                            .passive = &passive,
                                            .spread_db = 0.7f,
                                            .noise_figure = LEGWORK_FLAT(5.5f),
                                            .isolation = LEGWORK_FLAT(24.0f),
                                            .network_loss = &network_loss,
                                            .max_input_total = 33.0f,
                                            .max_output_total = 37.0f,
                                            .max_return_total = 49.0f,
                                            .split = SPLIT,
                                            .draw_watts = 2.8f,
                                            .volts_low = 11.0f,
                                            .volts_high = 18.0f,
                                            .dc_power = 1};
static const legwork_supply supply = {15.0f, 0.5f, .spread_percent = 5.0f, .source_ohms = 0.3f};

// What it is judged by.
static const legwork_limits voice_modem = {-8.0f, 12.0f, 32.0f, 13.0f, 36.0f, 36.0f, 50.0f, 12.0f, 24.0f};
static const legwork_limits modem = {-10.0f, 12.0f, 32.0f, 14.0f, 35.0f, 36.0f, 51.0f, 12.0f, 26.0f};
static const legwork_limits set_top = {-10.0f, 14.0f, 34.0f, 13.0f, 34.0f, 30.0f, 52.0f, 14.0f, 28.0f};

// Goes on from one part to the next, and stops at the first error: everything after it does nothing.
typedef struct {
    legwork_home *home;
    legwork_error error;
} builder;

static bool well(const builder *b) { return b->error == LEGWORK_OK; }

static legwork_port_id way(builder *b, legwork_part_id part, legwork_way name, uint32_t output) {
    legwork_port_id port = LEGWORK_ENTRY;
    if (well(b))
        b->error = legwork_port_of(b->home, part, name, output, &port);
    return port;
}

static legwork_port_id only(builder *b, legwork_part_id part) { return way(b, part, LEGWORK_ONLY, 0); }

static legwork_port_id run(builder *b, legwork_port_id after, const legwork_cable *cable, float feet,
                           legwork_place place) {
    legwork_part_id part = 0;
    if (well(b))
        b->error = legwork_add_cable(b->home, after, cable, FEET(feet), place, &part);
    return only(b, part);
}

static legwork_port_id joint(builder *b, legwork_port_id after) {
    legwork_part_id part = 0;
    if (well(b))
        b->error = legwork_add_joint(b->home, after, &barrel, &part);
    return only(b, part);
}

static legwork_part_id splitter(builder *b, legwork_port_id after, const legwork_splitter *spec) {
    legwork_part_id part = 0;
    if (well(b))
        b->error = legwork_add_splitter(b->home, after, spec, &part);
    return part;
}

static void outlet(builder *b, legwork_port_id after, legwork_device device, bool lifeline, bool member) {
    legwork_outlet_id id = 0;
    if (well(b))
        b->error = legwork_add_outlet(b->home, after, device, lifeline, &id);
    if (well(b) && member)
        b->error = legwork_join(b->home, id);
}

// From the entry to the amplifier in the closet.
static legwork_part_id closet(builder *b) {
    legwork_part_id part = 0;
    if (well(b))
        b->error = legwork_add_filter(b->home, LEGWORK_ENTRY, &entry_filter, &part);
    legwork_port_id after = run(b, only(b, part), &drop, 85.0f, LEGWORK_OUTDOOR);
    if (well(b))
        b->error = legwork_add_bond(b->home, after, &block, &conductor, &part);
    after = only(b, part);
    if (well(b))
        b->error = legwork_add_amplifier(b->home, after, &amplifier, &part);
    return part;
}

static void west_wing(builder *b, legwork_port_id after) {
    legwork_part_id part = 0;
    after = run(b, after, &drop, 62.0f, LEGWORK_OUTDOOR);
    if (well(b))
        b->error = legwork_add_equalizer(b->home, after, &equalizer, &part);
    part = splitter(b, only(b, part), &three_way);
    legwork_port_id office = run(b, way(b, part, LEGWORK_OUTPUT, 1), &inside, 28.0f, LEGWORK_INDOOR);
    legwork_port_id guest = run(b, way(b, part, LEGWORK_OUTPUT, 2), &inside, 19.0f, LEGWORK_INDOOR);
    legwork_port_id porch = run(b, way(b, part, LEGWORK_OUTPUT, 3), &drop, 44.0f, LEGWORK_OUTDOOR);
    outlet(b, office, LEGWORK_MODEM, false, false);
    outlet(b, guest, LEGWORK_TV, false, false);
    outlet(b, porch, LEGWORK_TV, false, false);
}

static void loft(builder *b, legwork_port_id after) {
    legwork_part_id part = 0;
    after = run(b, after, &drop, 70.0f, LEGWORK_INDOOR);
    if (well(b))
        b->error = legwork_add_pad(b->home, after, 3.0f, &part);
    outlet(b, joint(b, only(b, part)), LEGWORK_SET_TOP, false, true);
}

static void wire(builder *b) {
    legwork_part_id amp = closet(b), east;
    legwork_port_id study = run(b, way(b, amp, LEGWORK_PASSIVE, 0), &inside, 32.0f, LEGWORK_INDOOR);
    outlet(b, joint(b, study), LEGWORK_VOICE_MODEM, true, true);
    legwork_port_id den = run(b, way(b, amp, LEGWORK_OUTPUT, 1), &inside, 48.0f, LEGWORK_INDOOR);
    outlet(b, joint(b, den), LEGWORK_TV, false, false);
    east = splitter(b, run(b, way(b, amp, LEGWORK_OUTPUT, 2), &inside, 40.0f, LEGWORK_INDOOR), &two_way);
    legwork_port_id bedroom = run(b, way(b, east, LEGWORK_OUTPUT, 1), &inside, 22.0f, LEGWORK_INDOOR);
    legwork_port_id nursery = run(b, way(b, east, LEGWORK_OUTPUT, 2), &inside, 35.0f, LEGWORK_INDOOR);
    outlet(b, bedroom, LEGWORK_SET_TOP, false, true);
    outlet(b, nursery, LEGWORK_TV, false, false);
    west_wing(b, way(b, amp, LEGWORK_OUTPUT, 3));
    loft(b, way(b, amp, LEGWORK_OUTPUT, 4));
    legwork_port_id feed = joint(b, run(b, way(b, amp, LEGWORK_POWER, 0), &inside, 30.0f, LEGWORK_INDOOR));
    legwork_supply_id id;
    if (well(b))
        b->error = legwork_add_supply(b->home, feed, &supply, &id);
}

static legwork_error judge_by(legwork_home *home) {
    legwork_limits tv = LEGWORK_NO_LIMITS, target = LEGWORK_NO_LIMITS;
    tv.forward_low = -10.0f;
    tv.forward_high = 15.0f;
    tv.total = 35.0f;
    tv.tilt = 14.0f;
    tv.cnr = 36.0f;
    tv.neighbour = 36.0f;
    target.forward_low = -6.0f;
    target.forward_high = 8.0f;
    const legwork_error errors[] = {
        legwork_set_climate(home, LEGWORK_INDOOR, 15.0f, 30.0f),
        legwork_set_climate(home, LEGWORK_OUTDOOR, -25.0f, 45.0f),
        legwork_set_limits(home, LEGWORK_VOICE_MODEM, &voice_modem),
        legwork_set_limits(home, LEGWORK_MODEM, &modem),
        legwork_set_limits(home, LEGWORK_SET_TOP, &set_top),
        legwork_set_limits(home, LEGWORK_TV, &tv),
        legwork_set_target(home, LEGWORK_VOICE_MODEM, &target),
        legwork_set_home_network(home, 1125.0f, 1675.0f, 50.0f),
    };
    for (size_t i = 0; i < COUNT(errors); i++)
        if (errors[i] != LEGWORK_OK)
            return errors[i];
    return LEGWORK_OK;
}

legwork_error house_build(legwork_home *home) {
    builder b = {home, legwork_home_start(home, &service, &entry)};
    wire(&b);
    return well(&b) ? judge_by(home) : b.error;
}
