#!/usr/bin/env python3
"""Derives the weather statistics of the real stations that travel with the program.

    tools/derive_climate.py SHARED_REFERENCE_FOLDER

Reads us-monthly-climate.csv and weather/tmy3_*.csv there and writes, below the repository:

    data/climate/places.csv        monthly figures, 30 places (input of the generator)
    data/climate/stations.csv      monthly variability of the stations with an hourly file (input of the generator)
    data/climate/roses.csv         wind roses of the same stations (input of the generator)
    proof/climate/generator_means.toml     the monthly figures as checks
    proof/climate/generator_stations.toml  yearly statistics of the hourly files as checks

Plain Python, no packages. The hourly files themselves stay outside the repository.
"""
import csv
import glob
import math
import os
import sys

DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
MONTHS = '["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]'
CREDIT = ("National Solar Radiation Data Base 1991-2005 update, TMY3, NREL for the US Department of Energy; "
          "S. Wilcox and W. Marion, NREL/TP-581-43156 (2008); 2015 revision. No warranty by the US Government or NREL.")
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
# Standard time of the state, h. The TMY3 header of Bismarck says -7; the city keeps Central time.
UTC = {"MN": -6, "WI": -6, "IL": -6, "ND": -6, "SD": -6, "VT": -5, "MA": -5, "NH": -5, "ME": -5, "NY": -5, "MI": -5,
       "CO": -7, "MT": -7, "UT": -7, "ID": -7, "AK": -9}


def mean(x):
    return sum(x) / len(x)


def deviation(x):
    """Standard deviation of a finite population (divisor n)."""
    m = mean(x)
    return math.sqrt(mean([(v - m) ** 2 for v in x]))


def correlation(x, y):
    mx, my, sx, sy = mean(x), mean(y), deviation(x), deviation(y)
    return mean([(a - mx) * (b - my) for a, b in zip(x, y)]) / (sx * sy) if sx > 0 and sy > 0 else 0.0


def months():
    start = 0
    for n in DAYS:
        yield start, start + n
        start += n


def daily(x):
    return [mean(x[24 * d:24 * d + 24]) for d in range(365)]


def degree_days(t):
    """HDD65 in F-days: base 65 F, daily mean as (max + min) / 2. Hourly t in degC."""
    total = 0.0
    for d in range(365):
        day = t[24 * d:24 * d + 24]
        total += max(0.0, 65.0 - (0.9 * (max(day) + min(day)) + 32.0))
    return total


def within_month(x, per_day):
    """Root of the mean over all values of the squared distance from the month's own mean."""
    total = 0.0
    for a, b in months():
        part = x[per_day * a:per_day * b]
        total += deviation(part) ** 2 * len(part)
    return math.sqrt(total / len(x))


class Station:
    def __init__(self, path):
        with open(path, encoding="utf-8") as file:
            rows = list(csv.reader(file))
        column = {name.split(" (")[0]: i for i, name in enumerate(rows[1])}
        take = lambda name: [float(row[column[name]]) for row in rows[2:]]
        self.number = rows[0][0]
        self.temperature, self.dew_point = take("Dry-bulb"), take("Dew-point")
        self.speed, self.direction = take("Wspd"), take("Wdir")
        self.global_, self.outside = take("GHI"), take("ETR")
        self.diffuse = take("DHI")
        self.humidity = take("RHum")
        self.cloud = [v / 10 for v in take("OpqCld")]
        self.rain = [max(0.0, v) / 10 for v in take("Lprecip depth")]  # tenths of a millimetre, README of the files


def middle(day):
    """(max + min) / 2 less the mean of a day."""
    return 0.5 * (max(day) + min(day)) - mean(day)


def sector(direction):
    return int(direction / 22.5 + 0.5) % 16


def month_row(s, month, a, b):
    h = slice(24 * a, 24 * b)
    t, td = daily(s.temperature)[a:b], daily(s.dew_point)[a:b]
    hours = s.temperature[h]
    k = [sum(s.global_[24 * d:24 * d + 24]) / sum(s.outside[24 * d:24 * d + 24]) for d in range(a, b)]
    profile = [mean(hours[i::24]) for i in range(24)]
    u, rain = s.speed[h], s.rain[h]
    by_hour = [mean(u[i::24]) for i in range(24)]
    # TMY3 hour i is stamped i + 1; the wind's first harmonic peaks near 14.5 h.
    swing = sum(2 / 24 * v * math.cos(2 * math.pi * (i + 1 - 14.5) / 24) for i, v in enumerate(by_hour)) / mean(u)
    wet = [v for v in rain if v > 0]
    return {
        "station": s.number, "month": month + 1,
        "t_day_sd_K": f"{deviation(t):.2f}", "t_day_lag1": f"{correlation(t[:-1], t[1:]):.2f}",
        "t_hour_sd_K": f"{deviation(hours):.2f}", "t_profile_range_K": f"{max(profile) - min(profile):.2f}",
        "midrange_offset_K": f"{mean([middle(hours[24 * d:24 * d + 24]) for d in range(b - a)]):.2f}",
        "dew_day_sd_K": f"{deviation(td):.2f}", "dew_t_correlation": f"{correlation(t, td):.2f}",
        "clearness_t_correlation": f"{correlation(k, t):.2f}", "cloud_mean": f"{mean(s.cloud[h]):.3f}",
        "wind_cv": f"{deviation(u) / mean(u):.2f}", "wind_lag1": f"{correlation(u[:-1], u[1:]):.2f}",
        "wind_swing": f"{swing:.2f}", "wet_hours": len(wet),
        "rain_cv": f"{deviation(wet) / mean(wet):.2f}" if len(wet) > 1 else "",
    }


def rose_rows(s):
    seasons = {"winter": (12, 1, 2), "spring": (3, 4, 5), "summer": (6, 7, 8), "autumn": (9, 10, 11)}
    spans = list(months())
    for name, members in seasons.items():
        share, hours = [0.0] * 16, 0
        for m in members:
            a, b = spans[m - 1]
            for i in range(24 * a, 24 * b):
                hours += 1
                if s.speed[i] > 0:
                    share[sector(s.direction[i])] += 1
        calm = hours - sum(share)
        yield [s.number, name, f"{calm / hours:.4f}"] + [f"{v / sum(share):.4f}" for v in share]
    share, total = [0.0] * 16, sum(s.rain)
    for r, u, d in zip(s.rain, s.speed, s.direction):
        share[sector(d)] += r * u
    # For this rose the second column is the rain-weighted speed over the yearly mean speed.
    ratio = sum(r * u for r, u in zip(s.rain, s.speed)) / total / mean(s.speed)
    yield [s.number, "driving_rain", f"{ratio:.4f}"] + [f"{v / sum(share):.4f}" for v in share]


def driving_rain(s):
    """Yearly sum of rain x speed x cos(angle) over hours when it is positive, mm m/s; N, NE, ... NW."""
    sums = []
    for face in range(0, 360, 45):
        total = 0.0
        for r, u, d in zip(s.rain, s.speed, s.direction):
            total += max(0.0, math.cos(math.radians(d - face))) * r * u
        sums.append(total)
    return sums


def write_csv(path, head, fields, rows):
    with open(os.path.join(ROOT, path), "w", encoding="utf-8") as file:
        for line in head:
            file.write(f"# {line}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(fields)
        out.writerows(rows)


def places(reference):
    with open(os.path.join(reference, "us-monthly-climate.csv"), encoding="utf-8") as file:
        return list(csv.DictReader(file))


def write_places(rows):
    fields = ["place", "state", "county", "station", "latitude_deg", "longitude_deg", "elevation_m", "utc_offset_h", "zone",
              "zone_evidence", "month", "t_mean_degC", "dew_point_mean_degC", "rh_mean_pct", "wind_mean_m_s",
              "global_kWh_m2_day", "liquid_rain_mm"]
    out = []
    for r in rows:
        if r["month"] == "year":
            continue
        out.append([r["place"], r["state"], r["county"], r["tmy3_station"], r["lat"], r["lon"], r["elev_m"], UTC[r["state"]],
                    r["iecc_zone_2009_2018"], r["iecc_zone_evidence"], r["month"], r["t_mean_C"],
                    r["dewpoint_mean_C"], r["rh_mean_pct"], r["wind_mean_m_s"], r["ghi_kWh_m2_day"],
                    r["liquid_rain_mm_tmy3"]])
    write_csv("data/climate/places.csv",
              ["Monthly figures of 30 cold places, computed from TMY3 files: typical months, not a 30-year mean. Liquid rain only.",
               "Data: " + CREDIT,
               "Evidence: computed from TMY3; the IECC zone is from memory. Written by tools/derive_climate.py."], fields, out)


def slug(row):
    return f"{row['place']}, {row['state']}"


def numbers(values, digits):
    return "[" + ", ".join(f"{v:.{digits}f}" for v in values) + "]"


def write_means(rows):
    by_place = {}
    for r in rows:
        by_place.setdefault(slug(r), []).append(r)
    with open(os.path.join(ROOT, "proof/climate/generator_means.toml"), "w", encoding="utf-8") as file:
        file.write("# Monthly figures that the generated years must keep. Written by tools/derive_climate.py.\n"
                   "# Tolerances are the issue's: 0.3 K, 3 % of radiation, 3 % of liquid rain, 3 % of HDD65.\n"
                   'operation = "climate.generated_months"\nsource = "tmy3"\n')
        for name, months_ in by_place.items():
            year = months_[-1]
            assert year["month"] == "year"
            pick = lambda key: [float(m[key]) for m in months_[:12]]
            file.write(f'\n[[case]]\nname = "{name}"\ngiven = {{ place = "{name}" }}\nevidence = "computed"\n'
                       'place = "computed from the TMY3 file of the station"\n'
                       'within = { temperature = "0.3 K", global = "3 %", rain = "3 %", hdd65_kelvin_days = "3 %" }\n[case.expect]\n'
                       f'temperature = {{ values = {numbers([v + 273.15 for v in pick("t_mean_C")], 2)}, unit = "K", at = {MONTHS} }}\n'
                       f'global = {{ values = {numbers([v / 0.024 for v in pick("ghi_kWh_m2_day")], 2)}, unit = "W/m2", at = {MONTHS} }}\n'
                       f'rain = {{ values = {numbers(pick("liquid_rain_mm_tmy3"), 0)}, unit = "kg/m2", at = {MONTHS} }}\n'
                       f'hdd65_kelvin_days = {float(year["hdd65_F_days"]) / 1.8:.1f}\n')


def write_stations(stations, name_of):
    with open(os.path.join(ROOT, "proof/climate/generator_stations.toml"), "w", encoding="utf-8") as file:
        file.write("# Statistics of the hourly TMY3 files against the generated years. Written by tools/derive_climate.py.\n"
                   "# Tolerances are the issue's: 15 % of the spreads, 3 % of HDD65 and of liquid rain. `spread` is the standard\n"
                   "# deviation over the year, `spread_in_month` the one about each month's own mean (the harder check).\n"
                   'operation = "climate.generated_year"\nsource = "tmy3"\n')
        for s in stations:
            t = s.temperature
            wet = sum(1 for v in s.rain if v > 0)
            file.write(f'\n[[case]]\nname = "{name_of[s.number]}"\ngiven = {{ place = "{name_of[s.number]}" }}\n'
                       'evidence = "computed"\nplace = "computed from the hourly file of the station"\n'
                       'within = { temperature = "0.3 K", hdd65_kelvin_days = "3 %", daily_spread = "15 %", hourly_spread = "15 %", '
                       'daily_spread_in_month = "15 %", hourly_spread_in_month = "15 %", global = "3 %", rain = "3 %" }\n'
                       '[case.expect]\n'
                       f'temperature = "{mean(t) + 273.15:.2f} K"\nhdd65_kelvin_days = {degree_days(t) / 1.8:.1f}\n'
                       f'daily_spread = "{deviation(daily(t)):.3f} K"\nhourly_spread = "{deviation(t):.3f} K"\n'
                       f'daily_spread_in_month = "{within_month(daily(t), 1):.3f} K"\n'
                       f'hourly_spread_in_month = "{within_month(t, 24):.3f} K"\n'
                       f'global = "{mean(s.global_):.2f} W/m2"\nrain = "{sum(s.rain):.1f} kg/m2"\n')


def write_plausible(stations):
    """Figures without a gate: read by the unit test, which reports the ratios."""
    rows = []
    for s in stations:
        wet = [i for i in range(8760) if s.rain[i] > 0]
        rows.append([s.number, len(wet), f"{max(s.rain):.1f}", f"{max(driving_rain(s)):.0f}",
                     f"{mean([s.humidity[i] for i in wet]):.1f}", f"{mean([s.cloud[i] for i in wet]):.3f}", f"{mean(s.cloud):.3f}",
                     f"{mean(s.diffuse):.2f}", f"{mean(s.humidity):.1f}", f"{deviation(s.dew_point):.2f}"])
    write_csv("proof/climate/stations.csv",
              ["Yearly figures of the hourly TMY3 files that have no gate; the unit test of the generator reports ratios to them.",
               "driving: rain x speed x cos(angle), hours in front of the wettest of eight faces, mm m/s. Data: " + CREDIT,
               "Evidence: computed from TMY3. Written by tools/derive_climate.py."],
              ["station", "wet_hours", "rain_max_mm_h", "driving_mm_m_s", "rh_wet_pct", "cloud_wet", "cloud_mean",
               "diffuse_W_m2", "rh_mean_pct", "dew_sd_K"], rows)


def main():
    reference = sys.argv[1]
    rows = places(reference)
    name_of = {r["tmy3_station"]: slug(r) for r in rows}
    stations = [Station(p) for p in sorted(glob.glob(os.path.join(reference, "weather", "tmy3_*.csv")))]
    write_places(rows)
    head = ["Data: " + CREDIT, "Evidence: computed from TMY3. Written by tools/derive_climate.py; meanings in src/climate/statistics.h."]
    monthly = [month_row(s, m, a, b) for s in stations if s.number in name_of for m, (a, b) in enumerate(months())]
    write_csv("data/climate/stations.csv", ["Variability of typical months at stations with an hourly file."] + head,
              list(monthly[0]), [list(r.values()) for r in monthly])
    write_csv("data/climate/roses.csv",
              ["Share of the hours with wind by 16 sectors from north clockwise, and of rain x speed in the year (driving_rain).",
               "lead: share of calm hours in the season; for driving_rain the rain-weighted speed over the yearly mean."] + head,
              ["station", "what", "lead"] + [f"s{i}" for i in range(16)],
              [r for s in stations if s.number in name_of for r in rose_rows(s)])
    write_means(rows)
    listed = [s for s in stations if s.number in name_of]
    write_stations(listed, name_of)
    write_plausible(listed)


if __name__ == "__main__":
    main()
