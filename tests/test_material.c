/* SPDX-License-Identifier: Apache-2.0 */
#include "check.h"
#include "material/material.h"

static const double INCH_M = 0.0254;

static const struct material_sheet *sheet(const char *name) {
    const struct material_sheet *found = material_find_sheet(base_text_of(name));
    assert_non_null(found);
    return found;
}

static void ounce_sheets_have_the_published_thickness(void **state) {
    (void)state;
    /* copper a table 1.1.3, r1 to r4, SRC-33, FOUND */
    static const struct {
        const char *name;
        double nominal_in;
        double minimum_in;
        double mass_kgm2; /* DERIVED */
    } rows[] = {
        {"12 oz", 0.0162, 0.0150, 3.662}, {"16 oz", 0.0216, 0.0204, 4.882},
        {"20 oz", 0.0270, 0.0258, 6.103}, {"24 oz", 0.0323, 0.0308, 7.324},
        {"32 oz", 0.0431, 0.0411, 9.765}, {"48 oz", 0.0646, 0.0621, 14.647},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct material_sheet *found = sheet(rows[i].name);
        check_near(found->nominal_m, rows[i].nominal_in * INCH_M, 1e-12);
        check_near(found->minimum_m, rows[i].minimum_in * INCH_M, 1e-12);
        check_near(found->mass_kgm2, rows[i].mass_kgm2, 0.0006);
        assert_string_equal(found->source, "SRC-33");
    }
    check_near(sheet("16 oz")->mass_kgm2, 4.8824, 0.001); /* copper r7, DERIVED */
}

static void mass_over_thickness_is_the_density_of_copper(void **state) {
    (void)state;
    static const char *const names[] = {"12 oz", "16 oz",  "20 oz",  "24 oz", "32 oz",
                                        "48 oz", "0.6 mm", "0.7 mm", "0.8 mm"};
    /* copper a: SG 8.89 to 8.94 FOUND; copper r5 and r6 allow 0.5 % */
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        double density_kgm3 = sheet(names[i])->mass_kgm2 / sheet(names[i])->nominal_m;
        assert_true(density_kgm3 > 8890 * 0.995 && density_kgm3 < 8940 * 1.005);
    }
}

static void least_thickness_is_about_five_percent_under_nominal(void **state) {
    (void)state;
    /* copper q6: 5.6 % at 16 oz, 4.4 % at 20 oz, DERIVED */
    check_near(1 - sheet("16 oz")->minimum_m / sheet("16 oz")->nominal_m, 0.056, 0.0005);
    check_near(1 - sheet("20 oz")->minimum_m / sheet("20 oz")->nominal_m, 0.044, 0.0005);
}

static void millimetre_sheets_are_as_thick_as_they_say(void **state) {
    (void)state;
    check_near(sheet("0.6 mm")->nominal_m, 0.0006, 1e-15); /* copper r22, FOUND */
    check_near(sheet("0.7 mm")->nominal_m, 0.0007, 1e-15); /* copper r22, FOUND */
    check_near(sheet("0.7 mm")->mass_kgm2, 6.251, 0.001);  /* 0.7 x 8.93, DERIVED */
    check_near(sheet("0.8 mm")->minimum_m, 0, 0);
}

static void names_are_found_without_their_blanks_and_no_others(void **state) {
    (void)state;
    assert_ptr_equal(sheet("16oz"), sheet("16 oz"));
    assert_ptr_equal(sheet(" 0.7mm "), sheet("0.7 mm"));
    assert_null(material_find_sheet(base_text_of("16")));
    assert_null(material_find_sheet(base_text_of("18 oz")));
    assert_null(material_find_sheet(base_text_of("16 oz x")));
    assert_null(material_find_sheet(base_text_of("")));
    assert_null(material_find_sheet((struct base_text){0}));
    assert_null(material_find_metal(base_text_of("tin")));
}

static void copper_has_the_published_properties(void **state) {
    (void)state;
    /* copper a and r8, SRC-32, FOUND */
    const struct material_metal *copper = material_find_metal(base_text_of("copper"));
    assert_non_null(copper);
    check_near(copper->expansion_1k / 1.8, 9.8e-6, 1e-18);
    check_near(copper->modulus_pa / 6894.757293168, 17.0e6, 1);
    check_near(copper->yield_pa / 6894.757293168, 20000, 0.01);
    check_near(copper->density_kgm3 / 0.45359237 * INCH_M * INCH_M * INCH_M, 0.322, 1e-9);
    assert_true(copper->density_kgm3 > 8890 && copper->density_kgm3 < 8940); /* SG, FOUND */
}

static void solder_film_weighs_what_its_mixture_does(void **state) {
    (void)state;
    const double lbft = 0.45359237 / 0.3048;
    const double film_m = 0.010 * INCH_M;
    /* copper r40, d: 0.0385 and 0.032 lb/ft, DERIVED */
    check_near(material_solder_kgm(INCH_M, film_m, false) / lbft, 0.0385, 0.0002);
    check_near(material_solder_kgm(INCH_M, film_m, true) / lbft, 0.032, 0.0002);
    /* copper r41: 10 in of it 0.0321 lb */
    check_near(material_solder_kgm(INCH_M, film_m, false) / lbft * 10 / 12, 0.0321, 0.0002);
    /* copper r39: 8.878 g/cm3 = 0.3207 lb/in3 */
    check_near(material_solder_kgm(1, 1, false), 8878, 1);
    check_near(material_solder_kgm(0, film_m, false), 0, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ounce_sheets_have_the_published_thickness),
        cmocka_unit_test(mass_over_thickness_is_the_density_of_copper),
        cmocka_unit_test(least_thickness_is_about_five_percent_under_nominal),
        cmocka_unit_test(millimetre_sheets_are_as_thick_as_they_say),
        cmocka_unit_test(names_are_found_without_their_blanks_and_no_others),
        cmocka_unit_test(copper_has_the_published_properties),
        cmocka_unit_test(solder_film_weighs_what_its_mixture_does),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
