/** What to say where a value is needed and none stands. */
export function valueHint(text: string, offset: number): string {
  const rest = text.slice(offset, offset + 20);
  if (rest.startsWith("'")) return "texts are written in double quotes";
  if (rest.startsWith("+")) return "numbers have no plus sign at the front";
  if (/^-?\./.test(rest)) return "numbers have a digit before the point";
  if (/^-?(nan|inf)/i.test(rest)) return "JSON has no NaN and no infinity";
  if (/^\p{L}/u.test(rest))
    return "texts are written in double quotes; without them only true, false and null are known";
  return `a value is needed${found(text, offset)}`;
}

/** What to say where a key is needed and none stands. */
export function keyHint(text: string, offset: number): string {
  const rest = text.slice(offset, offset + 2);
  if (/^['\p{L}]/u.test(rest)) return "keys are written in double quotes";
  return `a key in double quotes is needed${found(text, offset)}`;
}

/** What to say where the colon behind a key is missing. */
export function colonHint(text: string, offset: number): string {
  return `a colon should follow the key${found(text, offset)}`;
}

/** What to say where a list or object ends behind a comma. */
export function trailingHint(close: string): string {
  return `no comma may stand before ${close}`;
}

/** What to say where neither comma nor end follows a value; `close` is the end that would do, absent at the top level. */
export function nextHint(text: string, offset: number, close: string | undefined): string {
  const here = found(text, offset);
  if (close === undefined) return `nothing may follow the value${here}`;
  if (/\d/.test(text[offset - 1] ?? "") && /[\d.eE]/.test(text[offset] ?? "")) {
    return "the number is not written as JSON asks: no leading zeros, and digits behind the point";
  }
  return `a comma or ${close} should follow the value${here}`;
}

function found(text: string, offset: number): string {
  const character = [...text.slice(offset, offset + 2)][0];
  if (character === undefined) return "; the file ends here";
  if (/^(?:\/\/|\/\*|#)/.test(text.slice(offset, offset + 2))) return "; JSON has no comments";
  return `; here stands ${character === '"' ? "a quotation mark" : JSON.stringify(character)}`;
}
