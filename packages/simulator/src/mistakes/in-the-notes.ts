import { changed, type Row } from "../sheet.ts";
import { pick } from "./among-shots.ts";
import { catalogue, type Papers } from "./mistake.ts";
import { inTurn, pickRow, rewrite, rewriteColumn, scaledSignals, sheetOf } from "./on-paper.ts";

const OUTPUTS = "output-factors";

/** Mistakes in what is written beside the signals. */
export const IN_THE_NOTES = catalogue({
  "background-duration-mistyped": {
    what: "The background was integrated for another time than was written down.",
    size: { meaning: "written over real time", usual: 2 },
    mistype: (papers, { size }) => rewriteColumn(papers, "background", "duration_s", (t) => t * size),
  },
  "duration-mistyped": {
    what: "The integration time of one reading was written down wrong.",
    size: { meaning: "times the value", usual: 10 },
    mistype: (papers, circumstances) => {
      const { reading } = pickRow(papers, OUTPUTS, circumstances);
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["reading"] === reading,
        (row) => ({ duration_s: changed(row["duration_s"]!, (t) => t * circumstances.size) }),
        "duration_s",
      );
    },
  },
  "mu-mistyped": {
    what: "The monitor units of one reading were written down wrong.",
    size: { meaning: "times the value", usual: 2 },
    mistype: (papers, circumstances) => {
      const { reading } = pickRow(papers, OUTPUTS, circumstances);
      requireColumn(papers, "mu");
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["reading"] === reading,
        (row) => ({ mu: changed(row["mu"]!, (mu) => mu * circumstances.size) }),
        "mu",
      );
    },
  },
  "monitor-mistyped": {
    what: "The monitor's reading was written down wrong once.",
    size: { meaning: "times the value", usual: 10 },
    mistype: (papers, circumstances) => {
      const { reading } = pickRow(papers, OUTPUTS, circumstances);
      requireColumn(papers, "monitor");
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["reading"] === reading,
        (row) => ({ monitor: changed(row["monitor"]!, (value) => value * circumstances.size) }),
        "monitor",
      );
    },
  },
  "field-size-mistyped": {
    what: "One field's measured widths were written down wrong, both alike.",
    size: { meaning: "times the value", usual: 1.5 },
    mistype: (papers, circumstances) => {
      const condition = aField(papers, circumstances);
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["condition"] === condition,
        (row) => ({
          fwhm_x_mm: changed(row["fwhm_x_mm"]!, (width) => width * circumstances.size),
          fwhm_y_mm: changed(row["fwhm_y_mm"]!, (width) => width * circumstances.size),
        }),
        "fwhm_x_mm",
      );
    },
  },
  "field-width-mistyped": {
    what: "One of the two measured widths of a field was written down wrong.",
    size: { meaning: "times the value", usual: 1.5 },
    mistype: (papers, circumstances) => {
      const condition = aField(papers, circumstances);
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["condition"] === condition,
        (row) => ({ fwhm_y_mm: changed(row["fwhm_y_mm"]!, (width) => width * circumstances.size) }),
        "fwhm_y_mm",
      );
    },
  },
  "field-called-reference": {
    what: "One field was entered as the reference.",
    mistype: (papers, circumstances) => {
      const condition = aField(papers, circumstances);
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["condition"] === condition,
        () => ({ role: "reference" }),
        "role",
      );
    },
  },
  "temperature-in-fahrenheit": {
    what: "The temperatures of the output factors are in °F.",
    mistype: (papers) => rewriteColumn(papers, OUTPUTS, "temperature_C", (t) => 32 + 1.8 * t),
  },
  "temperature-mistyped": {
    what: "The temperatures of the output factors were read from a thermometer that is off.",
    size: { meaning: "more, °C", usual: 10 },
    mistype: (papers, { size }) => rewriteColumn(papers, OUTPUTS, "temperature_C", (t) => t + size),
  },
  "dose-u-as-fraction": {
    what: "The uncertainty of the calibration dose was written down as a fraction where per cent were asked for.",
    mistype: (papers) =>
      rewrite(
        papers,
        "calibration",
        () => true,
        (row) => ({ dose_u_percent: String(Number((Number(row["dose_u_percent"]) / 100).toPrecision(6))) }),
        "dose_u_percent",
      ),
  },
  "dose-in-cgy": {
    what: "The doses of the calibration are in cGy.",
    mistype: (papers) => rewriteColumn(papers, "calibration", "dose_Gy", (dose) => 100 * dose),
  },
  "time-mistyped": {
    what: "The times of one field are off by hours, as after a change of the clock.",
    size: { meaning: "later, h (whole)", usual: 1 },
    mistype: (papers, circumstances) => {
      requireColumn(papers, "time");
      const condition = aField(papers, circumstances);
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["condition"] === condition,
        (row) => ({ time: hoursLater(row["time"]!, circumstances.size) }),
        "time",
      );
    },
  },
  "correction-applied-twice": {
    what: "One field's signals were corrected for volume averaging already, and the correction was entered as well.",
    size: { meaning: "correction, %", usual: 3 },
    mistype: (papers, circumstances) => {
      const condition = aField(papers, circumstances);
      const factor = 1 + circumstances.size / 100;
      const corrected = (row: Row): Row => ({ k_volume: factor.toFixed(4), k_volume_u: "0.0030", ...scaled(row) });
      const scaled = (row: Row) => scaledSignals(row, sheetOf(papers, OUTPUTS), factor);
      const { made, places } = rewrite(papers, OUTPUTS, (row) => row["condition"] === condition, corrected, "k_volume");
      const sheets = made.sheets.map((sheet) =>
        sheet.series === OUTPUTS ? { ...sheet, columns: [...sheet.columns, "k_volume", "k_volume_u"] } : sheet,
      );
      return { made: { ...made, sheets }, places };
    },
  },
  "volume-mistyped": {
    what: "The active volume was entered with the decimal point slipped.",
    size: { meaning: "times diameter and length", usual: 10 },
    mistype: (papers, { size }) =>
      redescribed(papers, (detector) => {
        const volume = detector.activeVolume!;
        return {
          ...detector,
          activeVolume: { diameter_mm: volume.diameter_mm * size, length_mm: volume.length_mm * size },
        };
      }),
  },
  "coefficient-in-percent": {
    what: "The temperature coefficient was entered in per cent per kelvin where a fraction was asked for.",
    mistype: (papers) =>
      redescribed(papers, (detector) => {
        const { value, u } = detector.temperatureCoefficient_perK!;
        return { ...detector, temperatureCoefficient_perK: { value: 100 * value, u: 100 * u } };
      }),
  },
  "digits-dropped-throughout": {
    what: "A spreadsheet dropped the zeros at the end of the signals. This alone spoils nothing.",
    mistype: (papers) =>
      inTurn(
        papers,
        papers.sheets.map(({ series, columns }) => (own) => {
          const signals = columns.filter((column) => column.startsWith("signal_"));
          const shorter = (row: Row) =>
            Object.fromEntries(signals.map((column) => [column, String(Number(row[column]))]));
          return { ...rewrite(own, series, () => true, shorter), places: [{ series }] };
        }),
      ),
  },
});

type Detector = Papers["descriptor"]["alcedo"]["detector"];

function redescribed(papers: Papers, change: (detector: Detector) => Detector) {
  const { descriptor } = papers;
  const { alcedo } = descriptor;
  const made = {
    ...papers,
    descriptor: { ...descriptor, alcedo: { ...alcedo, detector: change(alcedo.detector) } },
  };
  return { made, places: [] };
}

function aField(papers: Papers, circumstances: Parameters<typeof pickRow>[2]): string {
  const fields = sheetOf(papers, OUTPUTS).rows.filter((row) => row["role"] === "field");
  const names = [...new Set(fields.map((row) => row["condition"]!))];
  return pick(names, circumstances, "a field among the output factors");
}

function requireColumn(papers: Papers, column: string): void {
  if (!sheetOf(papers, OUTPUTS).columns.includes(column))
    throw new Error(`this mistake needs the column ${column} in the output factors, and it is not written`);
}

/** The clock of a time put forward by whole hours, within its day. */
function hoursLater(time: string, hours: number): string {
  const hour = (Number(time.slice(11, 13)) + hours + 24) % 24;
  return `${time.slice(0, 11)}${String(hour).padStart(2, "0")}${time.slice(13)}`;
}
