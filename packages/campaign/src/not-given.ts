import type { Result, StageId } from "./result.ts";

/** What a physicist came for and does not get, with the reason. */
export function notGiven({ quantities, stages }: Result): string[] {
  const reason = (id: StageId) => stages.find((stage) => stage.id === id && stage.standing === "broken")?.reason;
  const has = (prefix: string) => quantities.some(({ id }) => id.startsWith(prefix));
  const text = (what: string, why: string) => `${what} not given: ${why.replace(/\.$/, "")}.`;
  return [
    ...(has("dose.")
      ? []
      : [
          text(
            "Doses",
            reason("calibration") ??
              reason("separation") ??
              "nothing ties the signal to dose, neither a calibration nor a known dose",
          ),
        ]),
    ...(has("output-factor.")
      ? []
      : [text("Output factors", reason("output-factors") ?? "this campaign has no readings of them")]),
  ];
}
