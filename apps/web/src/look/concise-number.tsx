import { concise } from "@alcedo-dosimetry/campaign";
import { useDecimal } from "./decimal.tsx";
import "./concise-number.css";

/** What a number with its uncertainty is made of. */
export interface ConciseNumberProps {
  readonly value: number;
  /** Standard uncertainty; null where there is none. */
  readonly u: number | null;
  readonly unit?: string;
}

/** A number as `0.6123(21) nC`: the digits in brackets are its standard uncertainty in units of its last digits. */
export function ConciseNumber({ value, u, unit }: ConciseNumberProps) {
  const decimal = useDecimal();
  const [, digits, brackets, power] = /^([^(]*)(\([^)]*\))?(.*)$/.exec(decimal(concise(value, u)))!;
  return (
    <span className="number concise">
      {digits}
      {brackets !== undefined && <span className="concise-u">{brackets}</span>}
      {power}
      {unit !== undefined && unit !== "1" && <span className="concise-unit"> {unit}</span>}
    </span>
  );
}
