#!/usr/bin/env python3
"""Writes the logger files of this folder and, beside each, NAME.want.csv: what
reading it must give. It shares no code with the reader: character sets are
Python's codecs, time zones its zoneinfo (IANA time zone database), conversions
exact fractions rounded once to the nearest double.

The makers are invented. Values are made up. Run in this folder:

    python3 write.py
"""
from datetime import datetime, timedelta, timezone
from fractions import Fraction
from zoneinfo import ZoneInfo
import codecs

SEED = 1


def noise():
    """A number from -1 to 1, the same on every run."""
    global SEED
    SEED = (SEED * 1103515245 + 12345) % 2**31
    return SEED / 2**30 - 1


def instants(start_utc, step_s, n):
    at = datetime.fromisoformat(start_utc).replace(tzinfo=timezone.utc)
    return [at + timedelta(seconds=step_s * i) for i in range(n)]


def decimals(mean, swing, places):
    """An endless series of decimal fractions with a fixed number of places."""
    while True:
        v = round((mean + swing * noise()) * 10**places)
        yield Fraction(v, 10**places), places


def text(v, places, mark=".", group=""):
    sign, v = ("-" if v < 0 else ""), abs(v)
    whole, part = divmod(int(v * 10**places), 10**places)
    s = str(whole)
    if group and len(s) > 3:
        s = s[:-3] + group + s[-3:]
    return sign + s + (mark + str(part).zfill(places) if places else "")


# Conversions to the units that series are kept in.
SAME = lambda v: v
FAHRENHEIT = lambda v: (v - 32) * 5 / 9
MILLI = lambda v: v / 1000
KILO = lambda v: v * 1000


# The columns of each file by hand: its name in the header and the unit that the
# file counts in, as this project spells it.
COLUMNS = {
    "au-missing-hour": "Temp (°C) | °C; RH (%) | % RH",
    "br": "Temperatura (°C) | °C; Umidade (%UR) | % RH; Ponto de orvalho (°C) | °C",
    "ca-fr-offset": "Température °C | °C; Humidité relative % | % RH",
    "ch-thousands": "Leistung (W) | W; Zähler (kWh) | kWh",
    "cz": "Teplota (°C) | °C; Vlhkost (%) | % RH",
    "de-cp850": "Fühler 1 (°C) | °C; Fühler 2 (°C) | °C",
    "de-doubled-hour": "Temperatur (°C) | °C",
    "de-windows-1252": "Temperatur [°C] | °C; Rel. Feuchte [%rF] | % RH",
    "dk": "Temperatur °C | °C; Luftfugtighed %RH | % RH",
    "es-utf-16le": "Temperatura (°C) | °C; Humedad (%HR) | % RH",
    "fi": "Lämpötila (°C) | °C; Kosteus (%RH) | % RH",
    "fr": "Température (°C) | °C; Humidité (%HR) | % RH; Point de rosée (°C) | °C",
    "hu": "T1 [°C] | °C; T2 [°C] | °C",
    "in": "Temp(°C) | °C; RH(%) | % RH",
    "iso-offset": "temperature_C | °C; humidity_%RH | % RH",
    "iso-utc-fraction": "probe [K] | K; heat flux [W/m²] | W/m²",
    "it-dots": "Temperatura (°C) | °C; Umidità (%UR) | % RH",
    "jp-utf-16-no-mark": "Ch.1 (℃) | °C; Ch.2 (%RH) | % RH",
    "lt-missing-values": "T (°C) | °C; RH (%) | % RH",
    "month-names-thousands": "Cellar (°C) | °C; Meter (kWh) | kWh",
    "nl": "Temperatuur (°C) | °C; Luchtvochtigheid (%RV) | % RH",
    "pt": "Temperatura (ºC) | °C; Humidade (%HR) | % RH",
    "se-utf-16be": "Temperatur (°C) | °C; Luftfuktighet (% RH) | % RH",
    "uk": "Temperature °C | °C; Humidity %RH | % RH; Dew Point °C | °C",
    "uk-doubled-hour-hourly": "Temperature (°C) | °C",
    "units-in-cells": "Keller | °C; Feuchte | % RH",
    "units-row-compact": "Channel 1 | °C; Channel 2 | % RH",
    "unix-milliseconds": "U (V) | V; E (Wh) | Wh",
    "unix-seconds": "power (kW) | kW; current (mA) | mA; compressor | ",
    "us-12-hour": "Temp (°F) | °F; RH (%) | % RH",
    "us-cp437": "Temp °F | °F; Probe °F | °F",
    "us-doubled-hour-newest-first": "Temperature (°F) | °F",
    "us-header-offset": "Air (°F) | °F; Dew point (°F) | °F; Humidity (%RH) | % RH",
    "za": "Temperature °C | °C; Humidity %RH | % RH",
}


def want(name, zone, quantities, rows):
    """rows: (instant, [Fraction or None])."""
    base = name.rsplit(".", 1)[0]
    with open(base + ".want.csv", "w", encoding="utf-8", newline="\n") as f:
        f.write("# source: write.py in this folder; computed; values must agree to the last bit\n")
        f.write(f"# zone: {zone}\n")
        f.write(f"# columns: {COLUMNS[base]}\n")
        f.write("unix ms," + ",".join(quantities) + "\n")
        for at, values in rows:
            ms = round(at.timestamp() * 1000)
            f.write(str(ms) + "," + ",".join("" if v is None else repr(float(v)) for v in values) + "\n")


def write(name, lines, encoding, newline="\r\n", bom=b"", last=True):
    body = newline.join(lines) + (newline if last else "")
    with open(name, "wb") as f:
        f.write(bom + body.encode(encoding))


def table(name, *, zone, when, columns, head, encoding="utf-8", sep=",", stamp, mark=".", group="",
          newline="\r\n", bom=b"", quote=(), order=1, number=False, suffixes=None, tail=(), last=True,
          lost=lambda row, column: False):
    """columns: (quantity, generator, conversion). stamp: local datetime -> list of cells."""
    local = ZoneInfo(zone) if zone else timezone.utc
    rows, lines, truth = [], list(head), []
    for i, at in enumerate(when):
        values = [next(c[1]) for c in columns]
        cells = [str(i + 1)] if number else []
        cells += stamp(at.astimezone(local))
        for k, (v, places) in enumerate(values):
            s = "" if lost(i, k) else text(v, places, mark, group)
            if suffixes:
                s += suffixes[k]
            cells.append(f'"{s}"' if k in quote else s)
        rows.append(sep.join(cells))
        truth.append((at, [None if lost(i, k) else c[2](v) for k, (c, (v, _)) in enumerate(zip(columns, values))]))
    lines += rows[::order] + list(tail)
    write(name, lines, encoding, newline, bom, last)
    want(name, zone or "none", [c[0] for c in columns], truth)


def half(t):
    return "AM" if t.hour < 12 else "PM"


T, RH, DP, W, A, V, E = "temperature", "relative humidity", "dew point", "power", "current", "voltage", "energy"


def main():
    # Day above 12 in the file, so that month/day is settled.
    table("us-12-hour.csv", zone="America/Chicago", when=instants("2024-06-11 21:00", 900, 220),
          head=['"Example Recorder 4","serial 000123"', '"Cellar, north wall, 5 ft"', "",
                '"Date","Time","Temp (°F)","RH (%)"'],
          columns=[(T, decimals(55, 2, 1), FAHRENHEIT), (RH, decimals(60, 5, 1), SAME)],
          stamp=lambda t: [t.strftime("%m/%d/%y"), t.strftime("%I:%M:%S ") + half(t)], newline="\n")

    table("us-header-offset.csv", zone="", when=instants("2024-01-20 05:00", 600, 200),
          head=['#,"Date and time, GMT-05:00","Air (°F)","Dew point (°F)","Humidity (%RH)"'],
          columns=[(T, decimals(56, 2, 2), FAHRENHEIT), (DP, decimals(42, 2, 2), FAHRENHEIT), (RH, decimals(60, 5, 2), SAME)],
          stamp=lambda t: [(t - timedelta(hours=5)).strftime("%m/%d/%Y %H:%M")], number=True, newline="\n")

    table("us-cp437.txt", zone="America/New_York", when=instants("2024-07-14 12:00", 300, 100), encoding="cp437", sep="|",
          head=["STATION 7", "Date-time|Temp °F|Probe °F"],
          columns=[(T, decimals(55, 1, 1), FAHRENHEIT), (T, decimals(54, 1, 1), FAHRENHEIT)],
          stamp=lambda t: [t.strftime("%m-%d-%Y %H:%M:%S")])

    table("uk.csv", zone="Europe/London", when=instants("2024-05-28 10:00", 300, 120), bom=codecs.BOM_UTF8,
          head=["Date/Time,Temperature °C,Humidity %RH,Dew Point °C"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(62, 4, 1), SAME), (DP, decimals(6, 1, 1), SAME)],
          stamp=lambda t: [t.strftime("%d/%m/%Y %H:%M:%S")])

    table("de-windows-1252.csv", zone="Europe/Berlin", when=instants("2024-02-01 00:00", 600, 150), encoding="cp1252", sep=";",
          head=["Beispiel-Logger 3;Prüfort: Weinkeller", "Datum;Uhrzeit;Temperatur [°C];Rel. Feuchte [%rF]"],
          columns=[(T, decimals(12.8, 1, 2), SAME), (RH, decimals(58, 4, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d.%m.%Y"), t.strftime("%H:%M:%S")])

    table("de-cp850.txt", zone="Europe/Berlin", when=instants("2024-04-03 21:20", 60, 90), encoding="cp850", sep="\t",
          head=["Meßstelle:\tKühlraum Süd", "Zeitpunkt\tFühler 1 (°C)\tFühler 2 (°C)"],
          columns=[(T, decimals(-2, 3, 1), SAME), (T, decimals(13, 1, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d.%m.%y %H:%M")])

    table("ch-thousands.csv", zone="Europe/Zurich", when=instants("2024-08-20 06:00", 60, 80), sep=";",
          head=["sep=;", "Zeit;Leistung (W);Zähler (kWh)"],
          columns=[(W, decimals(1000, 400, 1), SAME), (E, iter([(Fraction(12345000 + 7 * i, 1000), 3) for i in range(80)]), SAME)],
          group="'", stamp=lambda t: [t.strftime("%d.%m.%Y %H:%M:%S")])

    table("fr.csv", zone="Europe/Paris", when=instants("2024-03-25 00:00", 900, 100), encoding="cp1252", sep=";",
          head=["Enregistreur d'exemple n° 12", "", "Date;Heure;Température (°C);Humidité (%HR);Point de rosée (°C)"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(63, 5, 0), SAME), (DP, decimals(6, 1, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d/%m/%Y"), t.strftime("%H:%M")])

    table("ca-fr-offset.csv", zone="", when=instants("2024-09-01 00:00", 300, 100), sep=";", bom=codecs.BOM_UTF8,
          head=["Appareil;Exemple 2", "Fuseau horaire;UTC-04:00", "Horodatage;Température °C;Humidité relative %"],
          columns=[(T, decimals(13, 1, 2), SAME), (RH, decimals(60, 5, 2), SAME)], mark=",",
          stamp=lambda t: [(t - timedelta(hours=4)).strftime("%Y-%m-%d %H:%M:%S")])

    table("es-utf-16le.txt", zone="Europe/Madrid", when=instants("2024-10-15 08:00", 600, 120), encoding="utf-16-le", sep="\t",
          bom=codecs.BOM_UTF16_LE, head=["Registrador de ejemplo 7", "Fecha y hora\tTemperatura (°C)\tHumedad (%HR)"],
          columns=[(T, decimals(14, 1, 1), SAME), (RH, decimals(65, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d/%m/%Y ") + str(t.hour % 12 or 12) + t.strftime(":%M:%S ") +
                           ("a.\u00a0m." if t.hour < 12 else "p.\u00a0m.")])

    table("it-dots.csv", zone="Europe/Rome", when=instants("2024-06-17 00:00", 120, 100), sep=";",
          head=["Data;Ora;Temperatura (°C);Umidità (%UR)"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(60, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d/%m/%Y"), t.strftime("%H.%M.%S")])

    table("nl.csv", zone="Europe/Amsterdam", when=instants("2024-11-13 00:00", 1800, 100), sep=";",
          head=["Voorbeeld 5", "Tijdstip;Temperatuur (°C);Luchtvochtigheid (%RV)"],
          columns=[(T, decimals(12, 1, 1), SAME), (RH, decimals(66, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d-%m-%Y %H:%M")], last=False)

    table("se-utf-16be.csv", zone="Europe/Stockholm", when=instants("2024-01-05 00:00", 300, 100), encoding="utf-16-be", sep=";",
          bom=codecs.BOM_UTF16_BE, head=["Tid;Temperatur (°C);Luftfuktighet (% RH)"],
          columns=[(T, decimals(11, 2, 2), SAME), (RH, decimals(66, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%Y-%m-%d %H:%M:%S")])

    table("dk.csv", zone="Europe/Copenhagen", when=instants("2024-12-24 00:00", 600, 100), encoding="cp1252", sep=";",
          head=["Målt i vinkælder;Eksempel 9", "Tidspunkt;Temperatur °C;Luftfugtighed %RH"],
          columns=[(T, decimals(12, 1, 1), SAME), (RH, decimals(64, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d-%m-%Y %H.%M")])

    table("fi.csv", zone="Europe/Helsinki", when=instants("2024-05-02 00:00", 3600, 100), sep=";",
          head=["Aika;Lämpötila (°C);Kosteus (%RH)"],
          columns=[(T, decimals(12, 1, 1), SAME), (RH, decimals(64, 5, 1), SAME)], mark=",",
          stamp=lambda t: [f"{t.day}.{t.month}.{t.year} {t.hour}.{t.minute:02}"])

    table("br.csv", zone="America/Sao_Paulo", when=instants("2024-07-30 03:00", 600, 100), sep=";", newline="\r",
          head=["Data e hora;Temperatura (°C);Umidade (%UR);Ponto de orvalho (°C)"],
          columns=[(T, decimals(15, 1, 1), SAME), (RH, decimals(70, 5, 1), SAME), (DP, decimals(9, 1, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d/%m/%Y %H:%M:%S")])

    table("jp-utf-16-no-mark.csv", zone="Asia/Tokyo", when=instants("2024-04-01 00:00", 600, 100), encoding="utf-16-le",
          head=["Time,Ch.1 (℃),Ch.2 (%RH)"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(60, 5, 0), SAME)],
          stamp=lambda t: [t.strftime("%Y/%m/%d %H:%M:%S")])

    table("hu.csv", zone="Europe/Budapest", when=instants("2024-09-09 00:00", 600, 100), sep=";",
          head=["Idő;T1 [°C];T2 [°C]"],
          columns=[(T, decimals(13, 1, 2), SAME), (T, decimals(14, 1, 2), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%Y.%m.%d %H:%M")])

    # Across the end of summer time, with the offset in each row.
    berlin = ZoneInfo("Europe/Berlin")
    table("iso-offset.csv", zone="", when=instants("2024-10-26 22:00", 600, 40),
          head=["timestamp,temperature_C,humidity_%RH"],
          columns=[(T, decimals(13, 1, 3), SAME), (RH, decimals(60, 5, 2), SAME)], newline="\n",
          stamp=lambda t: [t.astimezone(berlin).isoformat()])

    table("iso-utc-fraction.csv", zone="", when=[a + timedelta(milliseconds=250 * i) for i, a in enumerate(instants("2024-06-01 00:00", 10, 60))],
          head=["time;probe [K];heat flux [W/m²]"], sep=";", newline="\n",
          columns=[(T, decimals(286, 1, 2), lambda v: v - Fraction(27315, 100)), ("heat flux", decimals(5, 2, 3), SAME)],
          stamp=lambda t: [t.strftime("%Y-%m-%dT%H:%M:%S.") + f"{t.microsecond // 1000:03}Z"])

    table("unix-seconds.csv", zone="", when=instants("2024-06-01 00:00", 60, 120), newline="\n",
          head=["unix time,power (kW),current (mA),compressor"],
          columns=[(W, decimals(0.6, 0.1, 3), KILO), (A, decimals(2600, 300, 0), MILLI), ("state", decimals(0.5, 0.5, 0), SAME)],
          stamp=lambda t: [str(int(t.timestamp()))])

    table("unix-milliseconds.tsv", zone="", when=instants("2024-06-01 00:00", 1, 120), newline="\n", sep="\t",
          head=["epoch ms\tU (V)\tE (Wh)"],
          columns=[(V, decimals(230, 3, 1), SAME), (E, iter([(Fraction(1500 + 11 * i), 0) for i in range(120)]), MILLI)],
          stamp=lambda t: [str(int(t.timestamp() * 1000))])

    table("month-names-thousands.csv", zone="Europe/Dublin", when=instants("2024-04-03 14:05", 3600, 60),
          head=["Sample,When,Cellar (°C),Meter (kWh)"], number=True, quote=(1,), group=",",
          columns=[(T, decimals(13, 1, 1), SAME), (E, iter([(Fraction(98700 + 13 * i, 100) + 950, 2) for i in range(60)]), SAME)],
          stamp=lambda t: [t.strftime("%d-%b-%Y %H:%M")])

    table("units-in-cells.csv", zone="Europe/Vienna", when=instants("2024-02-25 00:00", 600, 60), sep=";",
          head=["Zeit;Keller;Feuchte"], suffixes=[" °C", " %"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(60, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d.%m.%Y %H:%M:%S")])

    table("units-row-compact.csv", zone="", when=instants("2024-06-01 12:00", 60, 60),
          head=["Stamp,Channel 1,Channel 2", "yyyymmddThhmmss,°C,%RH", "---,---,---"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(60, 5, 1), SAME)],
          stamp=lambda t: [t.strftime("%Y%m%dT%H%M%SZ")])

    # The hour that comes twice, oldest first and newest first, and hourly; the
    # hour that is missing.
    table("de-doubled-hour.csv", zone="Europe/Berlin", when=instants("2024-10-26 20:00", 600, 60), sep=";",
          head=["Datum;Zeit;Temperatur (°C)"], columns=[(T, decimals(13, 1, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d.%m.%Y"), t.strftime("%H:%M")])
    table("us-doubled-hour-newest-first.csv", zone="America/New_York", when=instants("2024-11-03 00:00", 900, 48), order=-1,
          head=["Date and time,Temperature (°F)"], columns=[(T, decimals(55, 1, 1), FAHRENHEIT)],
          stamp=lambda t: [t.strftime("%Y-%m-%d ") + t.strftime("%I:%M ") + half(t)])
    table("uk-doubled-hour-hourly.csv", zone="Europe/London", when=instants("2024-10-26 18:00", 3600, 24),
          head=["Time,Temperature (°C)"], columns=[(T, decimals(13, 1, 1), SAME)],
          stamp=lambda t: [t.strftime("%d/%m/%Y %H:%M")])
    table("au-missing-hour.csv", zone="Australia/Sydney", when=instants("2024-10-05 12:00", 600, 60),
          head=["Date,Time,Temp (°C),RH (%)"], columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(60, 5, 1), SAME)],
          stamp=lambda t: [t.strftime("%d/%m/%Y"), t.strftime("%H:%M")])

    # More countries, at the end so that the values above stay what they were.
    table("cz.csv", zone="Europe/Prague", when=instants("2024-04-14 07:05", 1800, 80), encoding="cp1252", sep=";",
          head=["Datum;Teplota (°C);Vlhkost (%)"],
          columns=[(T, decimals(13, 1, 1), SAME), (RH, decimals(60, 5, 1), SAME)], mark=",",
          stamp=lambda t: [f"{t.day}. {t.month}. {t.year} {t.hour}:{t.minute:02}:{t.second:02}"])

    table("in.csv", zone="Asia/Kolkata", when=instants("2024-04-14 00:00", 900, 80),
          head=["Date & Time,Temp(°C),RH(%)"],
          columns=[(T, decimals(14, 1, 1), SAME), (RH, decimals(66, 5, 1), SAME)],
          stamp=lambda t: [t.strftime("%d-%m-%Y %I:%M ") + half(t).lower()])

    table("za.csv", zone="Africa/Johannesburg", when=instants("2024-04-14 00:00", 900, 80), sep=";",
          head=["Date;Temperature °C;Humidity %RH"],
          columns=[(T, decimals(14, 1, 1), SAME), (RH, decimals(66, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%Y/%m/%d %H:%M")])

    table("pt.csv", zone="Europe/Lisbon", when=instants("2024-04-14 00:00", 900, 80), sep=";", bom=codecs.BOM_UTF8,
          head=["Data/Hora;Temperatura (ºC);Humidade (%HR)"],
          columns=[(T, decimals(14, 1, 1), SAME), (RH, decimals(66, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%d-%m-%Y %Hh%M")])

    # Cells that the logger left empty have no value; the row stays.
    table("lt-missing-values.csv", zone="Europe/Vilnius", when=instants("2024-04-14 00:00", 900, 80), sep=";",
          head=["Data;T (°C);RH (%)"],
          columns=[(T, decimals(-1, 3, 1), SAME), (RH, decimals(66, 5, 1), SAME)], mark=",",
          stamp=lambda t: [t.strftime("%Y.%m.%d %H:%M")], lost=lambda row, column: row % 7 == 3 + column)


main()
