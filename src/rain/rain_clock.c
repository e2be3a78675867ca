/* SPDX-License-Identifier: Apache-2.0 */
/* Times as gauges write them. */
#include "rain/rain_inside.h"

enum { DAY_S = 86400, FIRST_YEAR = 1800, LAST_YEAR = 2200, NOON_H = 12 };

static bool is_digit(char byte) {
    return byte >= '0' && byte <= '9';
}

/* One or more digits, most of them; false when there are none or more. */
static bool take_number(struct base_text *text, int digits_max, int *number) {
    int digits = 0;
    *number = 0;
    while (text->length > 0 && is_digit(text->bytes[0])) {
        if (++digits > digits_max) {
            return false;
        }
        *number = *number * 10 + (text->bytes[0] - '0');
        text->bytes++;
        text->length--;
    }
    return digits > 0;
}

static bool take_char(struct base_text *text, char byte) {
    if (text->length == 0 || text->bytes[0] != byte) {
        return false;
    }
    text->bytes++;
    text->length--;
    return true;
}

struct day {
    int year;
    int month;
    int day;
};

static int days_in_month(int year, int month) {
    static const int DAYS[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return DAYS[month - 1] + (month == 2 && leap ? 1 : 0);
}

/* 2013-10-04, 2013/10/04 | 10/4/2013, month first | 4.10.2013, day first. */
static bool take_day(struct base_text *text, struct day *day) {
    int first = 0;
    int second = 0;
    int third = 0;
    if (!take_number(text, 4, &first) || text->length == 0) {
        return false;
    }
    const char mark = text->bytes[0];
    const bool year_first = first >= FIRST_YEAR;
    if (!(mark == '/' || (mark == '-' && year_first) || (mark == '.' && !year_first)) ||
        !take_char(text, mark) || !take_number(text, 2, &second) || !take_char(text, mark) ||
        !take_number(text, year_first ? 2 : 4, &third)) {
        return false;
    }
    if (year_first) {
        *day = (struct day){first, second, third};
    } else if (mark == '/') {
        *day = (struct day){third, first, second};
    } else {
        *day = (struct day){third, second, first};
    }
    return day->year >= FIRST_YEAR && day->year <= LAST_YEAR && day->month >= 1 &&
           day->month <= 12 && day->day >= 1 && day->day <= days_in_month(day->year, day->month);
}

/* Days since 1970-01-01 in the civil calendar; years are counted from March so that the leap day
 * comes last. Source: plane arithmetic of the Gregorian calendar. */
static int64_t count_days(const struct day *day) {
    const int64_t year = day->month > 2 ? day->year : day->year - 1;
    const int64_t month = day->month > 2 ? day->month - 3 : day->month + 9;
    const int64_t in_year = (153 * month + 2) / 5 + day->day - 1;
    return year * 365 + year / 4 - year / 100 + year / 400 + in_year - 719468;
}

/* AM or PM behind the time; 12 AM is midnight. */
static bool take_half_day(struct base_text *text, int *hour) {
    if (!take_char(text, ' ')) {
        return true;
    }
    const bool after = take_char(text, 'P') || take_char(text, 'p');
    if ((!after && !take_char(text, 'A') && !take_char(text, 'a')) ||
        (!take_char(text, 'M') && !take_char(text, 'm')) || *hour < 1 || *hour > NOON_H) {
        return false;
    }
    *hour = *hour % NOON_H + (after ? NOON_H : 0);
    return true;
}

bool rain_read_clock(struct base_text text, int64_t *clock_s) {
    struct day day;
    int hour = 0;
    int minute = 0;
    int second = 0;
    if (!take_day(&text, &day) || !(take_char(&text, ' ') || take_char(&text, 'T')) ||
        !take_number(&text, 2, &hour) || !take_char(&text, ':') ||
        !take_number(&text, 2, &minute)) {
        return false;
    }
    if (take_char(&text, ':') && !take_number(&text, 2, &second)) {
        return false;
    }
    if (!take_half_day(&text, &hour)) {
        return false;
    }
    (void)take_char(&text, 'Z');
    if (text.length > 0 || hour > 24 || minute > 59 || second > 59 ||
        (hour == 24 && minute + second > 0)) {
        return false;
    }
    *clock_s = count_days(&day) * DAY_S + hour * INT64_C(3600) + minute * INT64_C(60) + second;
    return true;
}

/* The inverse of count_days, by the same years from March. */
static struct day find_day(int64_t days) {
    const int64_t from_march = days + 719468;
    const int64_t era = from_march / 146097; /* 400 years; all times here lie after year 0 */
    const int64_t in_era = from_march % 146097;
    const int64_t year = (in_era - in_era / 1460 + in_era / 36524 - in_era / 146096) / 365;
    const int64_t in_year = in_era - (365 * year + year / 4 - year / 100);
    const int64_t month = (5 * in_year + 2) / 153;
    const int64_t civil = month < 10 ? month + 3 : month - 9;
    return (struct day){(int)(year + era * 400 + (civil <= 2 ? 1 : 0)), (int)civil,
                        (int)(in_year - (153 * month + 2) / 5 + 1)};
}

static void add_two(struct base_builder *text, int64_t number) {
    base_add_string(text, number < 10 ? "0" : "");
    base_add_integer(text, number);
}

struct base_text rain_write_clock(struct base_arena *arena, int64_t clock_s) {
    int64_t days = clock_s / DAY_S;
    int64_t in_day_s = clock_s % DAY_S;
    if (in_day_s < 0) {
        days--;
        in_day_s += DAY_S;
    }
    const struct day day = find_day(days);
    struct base_builder text = {.arena = arena};
    base_add_integer(&text, day.year);
    base_add_char(&text, '-');
    add_two(&text, day.month);
    base_add_char(&text, '-');
    add_two(&text, day.day);
    base_add_char(&text, ' ');
    add_two(&text, in_day_s / 3600);
    base_add_char(&text, ':');
    add_two(&text, in_day_s / 60 % 60);
    return base_built(&text);
}
