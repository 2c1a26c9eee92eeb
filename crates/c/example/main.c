// A house with an amplifier in the closet, checked: what a firmware author writes.
//
// Prints the verdict at every outlet and each finding, and at the end a checksum over the bits of every
// figure, so that a board, a host and the Rust program beside it (reference.rs) can be compared line by line.

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "house.h"
#include "legwork.h"

static legwork_home home;
static legwork_workspace workspace;

// Ends the program with the error's text, where there is one.
static void must(legwork_error error) {
    if (error == LEGWORK_OK)
        return;
    char detail[LEGWORK_TEXT_SIZE];
    if (legwork_detail(&home, detail, sizeof detail) != LEGWORK_OK)
        detail[0] = 0;
    printf("error %" PRIu32 ": %s %s\n", error, legwork_error_text(error), detail);
    exit(1);
}

static uint32_t bits_of(float number) {
    uint32_t bits;
    memcpy(&bits, &number, sizeof bits);
    return bits;
}

// FNV-1a over the bits of figures; one pattern stands for all that is not a number.
static uint32_t checksum = 0x811c9dc5u, figures;

static void add(float number) {
    uint32_t bits = isnan(number) ? 0x7fc00000u : bits_of(number);
    for (int byte = 0; byte < 4; byte++, bits >>= 8)
        checksum = (checksum ^ (bits & 0xff)) * 0x01000193u;
    figures++;
}

static void add_row(const legwork_figure *row, size_t count) {
    for (size_t i = 0; i < count; i++) {
        add(row[i].nominal);
        add(row[i].low);
        add(row[i].high);
    }
}

static void add_outlet(legwork_outlet_id outlet) {
    legwork_outlet_report report;
    legwork_figure row[16];
    size_t count;
    legwork_error error = legwork_outlet_figures(&workspace, outlet, &report);
    if (error == LEGWORK_NO_SUCH) // an unused jack
        return;
    must(error);
    add_row(&report.tilt, 1);
    add_row(&report.total, 1);
    must(legwork_outlet_forward(&workspace, outlet, row, 16, &count));
    add_row(row, count);
    must(legwork_outlet_cnr(&workspace, outlet, row, 16, &count));
    add_row(row, count);
    must(legwork_outlet_transmit(&workspace, outlet, row, 16, &count));
    add_row(row, count);
}

static void add_frequencies(void) {
    float mhz[16];
    size_t count;
    must(legwork_forward_frequencies(&workspace, mhz, 16, &count));
    for (size_t i = 0; i < count; i++)
        add(mhz[i]);
    must(legwork_transmit_frequencies(&workspace, mhz, 16, &count));
    for (size_t i = 0; i < count; i++)
        add(mhz[i]);
}

static void add_powering(const legwork_counts *counts) {
    for (size_t i = 0; i < counts->feeds; i++) {
        legwork_feed_report feed;
        must(legwork_feed(&workspace, i, &feed));
        const float row[] = {feed.volts,       feed.volts_low,        feed.volts_high, feed.amps,      feed.amps_high,
                             feed.supply_amps, feed.supply_amps_high, feed.loop_ohms,  feed.drop_volts};
        for (size_t n = 0; n < sizeof row / sizeof *row; n++)
            add(row[n]);
    }
    for (size_t i = 0; i < counts->dc; i++) {
        legwork_dc_report dc;
        must(legwork_dc(&workspace, i, &dc));
        add(dc.volts);
        add(dc.volts_unloaded);
        add(dc.loop_ohms);
    }
}

static void add_everything(void) {
    legwork_counts counts;
    must(legwork_count(&workspace, &counts));
    add_frequencies();
    for (size_t i = 0; i < counts.outlets; i++)
        add_outlet((legwork_outlet_id)i);
    for (size_t i = 0; i < counts.amplifiers; i++) {
        legwork_amplifier_report amplifier;
        must(legwork_amplifier_figures(&workspace, i, &amplifier));
        add_row(&amplifier.input_total, 1);
        add(amplifier.headroom_db);
    }
    add_powering(&counts);
    for (size_t i = 0; i < counts.links; i++) {
        legwork_link_report link;
        must(legwork_link(&workspace, i, &link));
        add(link.mhz);
        add(link.loss_db);
    }
    for (size_t i = 0; i < counts.findings; i++) {
        legwork_finding_report finding;
        must(legwork_finding(&workspace, i, &finding));
        add(finding.mhz);
        add(finding.value);
        add(finding.limit);
    }
}

static void print_report(void) {
    legwork_counts counts;
    legwork_verdict_id verdict;
    must(legwork_count(&workspace, &counts));
    for (size_t i = 0; i < counts.outlets; i++) {
        legwork_outlet_report outlet;
        if (legwork_outlet_figures(&workspace, (legwork_outlet_id)i, &outlet) != LEGWORK_OK)
            continue; // an unused jack
        float total = outlet.total.nominal;
        printf("outlet %u: %s, total %.3f dBmV (%08" PRIx32 ")\n", (unsigned)i, legwork_verdict_name(outlet.verdict),
               (double)total, bits_of(total));
    }
    must(legwork_verdict(&workspace, &verdict));
    printf("home: %s, findings: %u\n", legwork_verdict_name(verdict), (unsigned)counts.findings);
    for (size_t i = 0; i < counts.findings; i++) {
        legwork_finding_report finding;
        char brief[LEGWORK_TEXT_SIZE];
        must(legwork_finding(&workspace, i, &finding));
        must(legwork_brief(&workspace, i, brief, sizeof brief));
        printf("%s %s: %s\n", legwork_verdict_name(finding.verdict), legwork_code_name(finding.code), brief);
    }
}

int main(void) {
    must(house_build(&home));
    must(legwork_check(&home, &workspace));
    print_report();
    add_everything();
    printf("figures: %" PRIu32 ", checksum %08" PRIx32 "\n", figures, checksum);
    return 0;
}
