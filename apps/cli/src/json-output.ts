/** A value as one JSON object on a page of its own; what could steer a terminal is escaped, which changes nothing for a reader. */
export function jsonText(value: unknown): string {
  const text = JSON.stringify(value, undefined, 2);
  return `${text.replace(/[\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g, escaped)}\n`;
}

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
