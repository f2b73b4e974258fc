import type { Finding } from "../finding.ts";
import { countedReadings } from "./counted-readings.ts";
import { list, percent, significant } from "./in-words.ts";
import type { Rule } from "./rule.ts";

/** No calibration of a dose reaches this (from memory: reference dosimetry ends at 0.2 to 0.3 %). */
const LEAST_DOSE_U_PERCENT = 0.1;

/** A dose uncertainty that looks like a fraction in place of a percentage. */
export const doseUncertaintySmall: Rule = {
  code: "dose-uncertainty-small",
  level: "warning",
  sees: "a standard uncertainty of the calibration dose below 0.1 %",
  threshold: { value: LEAST_DOSE_U_PERCENT, unit: "%", source: "from memory" },
  check({ typed }) {
    const small = typed.calibration?.readings.find(({ dose_u_percent }) => dose_u_percent < LEAST_DOSE_U_PERCENT);
    if (!small) return [];
    return [
      {
        level: "warning",
        code: "dose-uncertainty-small",
        message: `calibration, row ${small.row}: a dose uncertainty of ${small.dose_u_percent} % is smaller than any calibration reaches; it may be a fraction written for a percentage.`,
        effect: "The uncertainty of every dose leans on it.",
        remedy: `If a fraction was meant, write ${significant(100 * small.dose_u_percent, 3)}.`,
        where: { series: "calibration", reading: small.id, column: "dose_u_percent", row: small.row, line: small.line },
      },
    ];
  },
};

/** A treatment room (common practice). */
const ROOM_C = { least: 15, most: 32 };

/** Temperatures that no treatment room has. */
export const temperatureUnlikely: Rule = {
  code: "temperature-unlikely",
  level: "warning",
  sees: "a temperature outside 15 to 32 °C",
  threshold: { value: ROOM_C.most, unit: "°C", source: "common practice" },
  check({ series, assumptions }) {
    return countedReadings(series).flatMap(({ name, readings }): Finding[] => {
      const odd = readings.filter(({ temperature_C: T }) => T !== undefined && (T < ROOM_C.least || T > ROOM_C.most));
      const first = odd[0];
      if (!first) return [];
      const { value } = assumptions.values.temperatureCoefficient_perK;
      const moved = value * (first.temperature_C! - assumptions.values.referenceTemperature_C);
      return [
        {
          level: "warning",
          code: "temperature-unlikely",
          message: `${name}: ${odd.length === 1 ? "reading" : "readings"} ${list(odd.map(({ id }) => id))} ${odd.length === 1 ? "has" : "have"} a temperature of ${significant(first.temperature_C!, 3)} °C, which is no treatment room's.`,
          effect: `The signal is corrected by ${percent(-moved)} for it.`,
          remedy: "Write degrees Celsius, or leave the cell empty.",
          where: { series: name, reading: first.id, column: "temperature_C" },
          facts: { temperature_C: first.temperature_C! },
        },
      ];
    });
  },
};

/** How far a measured width may stand from the nominal one: 1.5 mm and 15 % (proposed default). */
const WIDTH = { mm: 1.5, part: 0.15 };

/** Measured widths that do not fit the nominal size. */
export const fieldWidthUnlikely: Rule = {
  code: "field-width-unlikely",
  level: "warning",
  sees: "a measured width more than 1.5 mm and more than 15 % from the nominal one",
  threshold: { value: WIDTH.part, unit: "1", source: "proposed default" },
  check({ typed }) {
    const fields = new Map(typed["output-factors"]?.readings.map((reading) => [reading.condition, reading]));
    return [...fields.values()].flatMap((reading): Finding[] => {
      const axes = [
        { column: "fwhm_x_mm", nominal: reading.x_mm ?? reading.diameter_mm, measured: reading.fwhm_x_mm },
        { column: "fwhm_y_mm", nominal: reading.y_mm ?? reading.diameter_mm, measured: reading.fwhm_y_mm },
      ];
      return axes.flatMap(({ column, nominal, measured }): Finding[] => {
        if (nominal === undefined || measured === undefined) return [];
        const off = Math.abs(measured - nominal);
        if (!(off > WIDTH.mm && off > WIDTH.part * nominal)) return [];
        return [
          {
            level: "warning",
            code: "field-width-unlikely",
            message: `output-factors: ${reading.condition} is ${nominal} mm wide by name and ${measured} mm as measured.`,
            effect: "Equivalent square, volume averaging and positioning are computed for the measured width.",
            remedy: "See whether it was measured at that depth with that collimator, and in mm.",
            where: {
              series: "output-factors",
              reading: reading.id,
              condition: reading.condition,
              column,
              row: reading.row,
              line: reading.line,
            },
            facts: { nominal, measured },
          },
        ];
      });
    });
  },
};

/** What a stated correction may be off the computed one beside the computed one itself (proposed default). */
const CORRECTION = 0.01;

/** A volume-averaging correction that the field's size and the active volume do not explain. */
export const volumeCorrectionUnlikely: Rule = {
  code: "volume-correction-unlikely",
  level: "warning",
  sees: "a stated k_volume off the one computed for the field by more than 1 % and the computed correction together",
  threshold: { value: CORRECTION, unit: "1", source: "proposed default" },
  check({ outputFactors }) {
    return (outputFactors?.fields ?? []).flatMap(({ name, stated, volumeAveraging, computed }): Finding[] => {
      if (!stated || computed === undefined) return [];
      const { value } = volumeAveraging;
      if (!(Math.abs(value - computed) > CORRECTION + Math.abs(computed - 1))) return [];
      return [
        {
          level: "warning",
          code: "volume-correction-unlikely",
          message: `output-factors: ${name} has k_volume ${significant(value, 4)} where its size and the active volume make ${significant(computed, 4)}.`,
          effect: `The output factor of ${name} is multiplied by the stated one.`,
          remedy:
            "See whether it belongs to that field and that detector, and whether the signals were corrected for it already.",
          where: { series: "output-factors", condition: name, column: "k_volume" },
          facts: { stated: value, computed },
        },
      ];
    });
  },
};
