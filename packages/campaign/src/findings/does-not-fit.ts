import type { Reading } from "@alcedo-dosimetry/dosimetry";
import { median } from "@alcedo-dosimetry/metrology";
import type { Finding } from "../finding.ts";
import { countedReadings } from "./counted-readings.ts";
import { list, percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** A machine whose output per MU leaves this is not to be treated with (common practice: 2 to 3 %). */
const PER_MU = 0.03;

/** Monitor per MU of the readings that state both, condition by condition. */
function ratiosByCondition(readings: readonly Reading[]): Map<string, { id: string; ratio: number }[]> {
  const ratios = new Map<string, { id: string; ratio: number }[]>();
  for (const { condition, id, monitor, mu } of readings) {
    if (monitor === undefined || mu === undefined) continue;
    const one = { id, ratio: monitor / mu };
    const known = ratios.get(condition);
    if (known) known.push(one);
    else ratios.set(condition, [one]);
  }
  return ratios;
}

/** A reading whose monitor and monitor units tell different stories. */
export const monitorUnitsDoNotFit: Rule = {
  code: "monitor-units-do-not-fit",
  level: "warning",
  sees: "monitor per MU of a reading more than 3 % from the median of its condition",
  threshold: { value: PER_MU, unit: "1", source: "common practice" },
  check(evaluated) {
    return countedReadings(evaluated.series).flatMap(({ name, readings }): Finding[] =>
      [...ratiosByCondition(readings)].flatMap(([condition, own]): Finding[] => {
        if (own.length < 3) return [];
        const typical = median(own.map(({ ratio }) => ratio));
        const odd = own.filter(({ ratio }) => Math.abs(ratio / typical - 1) > PER_MU);
        if (odd.length === 0) return [];
        return [
          {
            level: "warning",
            code: "monitor-units-do-not-fit",
            message: `${name}: in ${list(odd.map(({ id }) => id))} of ${condition} the monitor reads ${percent(odd[0]!.ratio / typical - 1)} off its repeats per monitor unit.`,
            effect: "The dose of that reading was not that of its monitor units, whichever of the two is right.",
            remedy:
              "See whether the beam stopped early or mu was mistyped; correct it, or leave the reading out with a reason.",
            where: { series: name, reading: odd[0]!.id, condition, column: "mu" },
            facts: { ratio: odd[0]!.ratio / typical },
          },
        ];
      }),
    );
  },
};

/** Dose per monitor unit that some machine may have, in Gy (from memory: about 0.01 at the reference point). */
const DOSE_PER_MU = { least: 0.001, most: 0.05 };

/** A dose in another unit. */
export const doseDoesNotFit: Rule = {
  code: "dose-does-not-fit",
  level: "warning",
  sees: "a stated dose below 0.001 or above 0.05 Gy per MU",
  threshold: { value: DOSE_PER_MU.most, unit: "Gy", source: "from memory: machines give about 0.01 Gy per MU" },
  check({ typed }) {
    const rows = [
      ...(typed.separation?.readings ?? []).map((reading) => ({ name: "separation", reading })),
      ...(typed.calibration?.readings ?? []).map((reading) => ({ name: "calibration", reading })),
    ];
    const odd = rows.flatMap(({ name, reading }) => {
      const { dose_Gy, mu } = reading;
      if (dose_Gy === undefined || mu === undefined) return [];
      const perMu = dose_Gy / mu;
      return perMu < DOSE_PER_MU.least || perMu > DOSE_PER_MU.most ? [{ name, reading, dose_Gy, perMu }] : [];
    });
    const first = odd[0];
    if (!first) return [];
    return [
      {
        level: "warning",
        code: "dose-does-not-fit",
        message: `${first.name}, row ${first.reading.row}: ${first.dose_Gy} Gy with ${first.reading.mu} MU are ${significant(first.perMu, 3)} Gy per MU${odd.length > 1 ? ` (and so in ${odd.length - 1} more)` : ""}; machines give about 0.01.`,
        effect: "Every dose is wrong by the same factor.",
        remedy: "Write the dose in Gy (100 cGy is 1 Gy), and the monitor units of that reading.",
        where: {
          series: first.name,
          reading: first.reading.id,
          column: "dose_Gy",
          row: first.reading.row,
          line: first.reading.line,
        },
        facts: { perMu: first.perMu },
      },
    ];
  },
};

/** A background taken over another time than the readings. */
export const durationDoesNotFit: Rule = {
  code: "duration-does-not-fit",
  level: "warning",
  sees: "integration times of the background that no reading has to within a fifth",
  threshold: { value: 0.2, unit: "1", source: "common practice: the same integration time as the reading" },
  check(evaluated) {
    const all = countedReadings(evaluated.series);
    const dark = all.find(({ name }) => name === "background")?.readings.map(({ duration_s }) => duration_s!) ?? [];
    const lit = all
      .filter(({ name }) => name !== "background")
      .flatMap(({ readings }) => readings.map((r) => r.duration_s!));
    if (dark.length === 0 || lit.length === 0) return [];
    const [least, most] = [Math.min(...lit), Math.max(...lit)];
    const odd = dark.filter((seconds) => seconds < 0.8 * least || seconds > 1.2 * most);
    if (odd.length === 0) return [];
    return [
      {
        level: "warning",
        code: "duration-does-not-fit",
        message: `background: readings of ${significant(odd[0]!, 3)} s, where the others last ${least === most ? significant(least, 3) : `${significant(least, 3)} to ${significant(most, 3)}`} s.`,
        effect:
          "An offset of the reader that does not grow with time is scaled with it, and a mistyped time scales the rate.",
        remedy: "Take the background over the same integration time as the readings, or correct duration_s.",
        where: { series: "background", column: "duration_s" },
      },
    ];
  },
};

/** Rows that stand before an earlier time, where the table otherwise runs in order of time. */
export const timeDoesNotFit: Rule = {
  code: "time-does-not-fit",
  level: "warning",
  sees: "few readings whose time is before that of the reading above, or half a day from the others of their condition",
  check(evaluated) {
    return countedReadings(evaluated.series).flatMap(({ name, readings }): Finding[] => {
      const timed = readings.flatMap(({ id, time }) => (time === undefined ? [] : [{ id, time }]));
      if (timed.length < 4) return [];
      const typical = median(timed.map(({ time }) => time));
      const odd = timed.filter(
        ({ time }, i) => (i > 0 && time < timed[i - 1]!.time) || Math.abs(time - typical) > HALF_A_DAY,
      );
      if (odd.length === 0 || odd.length > FEW * timed.length) return [];
      return [
        {
          level: "warning",
          code: "time-does-not-fit",
          message: `${name}: the time of ${list(odd.map(({ id }) => id))} does not follow that of the readings above.`,
          effect: "Background and reference are taken for the time that is written.",
          remedy: "Correct the time, date and offset included.",
          where: { series: name, reading: odd[0]!.id, column: "time" },
        },
      ];
    });
  },
};

/** Rooms with a machine are kept at an even temperature (proposed default). */
const TEMPERATURE = 4;

const HALF_A_DAY = 43_200;
/** Where more of them are out of order the table is sorted by something else. */
const FEW = 0.1;

/** Temperatures far from those around them. */
export const temperatureDoesNotFit: Rule = {
  code: "temperature-does-not-fit",
  level: "warning",
  sees: "a temperature more than 4 °C from the median of its series, or a series whose median is that far from the others'",
  threshold: { value: TEMPERATURE, unit: "°C", source: "proposed default" },
  check(evaluated) {
    const { value } = evaluated.assumptions.values.temperatureCoefficient_perK;
    const read = countedReadings(evaluated.series).map(({ name, readings }) => ({
      name,
      readings: readings.flatMap(({ id, temperature_C: T }) => (T === undefined ? [] : [{ id, T }])),
    }));
    const finding = (name: string, reading: string, message: string, off: number): Finding => ({
      level: "warning",
      code: "temperature-does-not-fit",
      message,
      effect: `The signal is corrected by ${percent(-value * off)} more than theirs.`,
      remedy: "Correct the temperature, or leave the cell empty.",
      where: { series: name, reading, column: "temperature_C" },
    });
    const inSeries = read.flatMap(({ name, readings }) => {
      if (readings.length < 3) return [];
      const typical = median(readings.map(({ T }) => T));
      const odd = readings.filter(({ T }) => Math.abs(T - typical) > TEMPERATURE);
      if (odd.length === 0) return [];
      const message = `${name}: ${list(odd.map(({ id, T }) => `${id} (${significant(T, 3)} °C)`))} where the others are at ${significant(typical, 3)} °C.`;
      return [finding(name, odd[0]!.id, message, odd[0]!.T - typical)];
    });
    // the series that stands farthest from the others; of two nobody knows which
    const apart = read
      .flatMap(({ name, readings }) => {
        const others = read.filter((other) => other.name !== name).flatMap((other) => other.readings);
        if (readings.length === 0 || others.length === 0) return [];
        const [own, theirs] = [readings, others].map((all) => median(all.map(({ T }) => T))) as [number, number];
        return [{ name, first: readings[0]!.id, own, theirs }];
      })
      .sort((a, b) => Math.abs(b.own - b.theirs) - Math.abs(a.own - a.theirs))[0];
    if (!apart || !(Math.abs(apart.own - apart.theirs) > TEMPERATURE)) return inSeries;
    const { name, first, own, theirs } = apart;
    const message = `${name}: readings at ${significant(own, 3)} °C, where those of the other series are at ${significant(theirs, 3)} °C.`;
    return [...inSeries, finding(name, first, message, own - theirs)];
  },
};
