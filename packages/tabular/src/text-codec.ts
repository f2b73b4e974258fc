/**
 * The encoder and decoder of the WHATWG Encoding standard: globals of browsers and of Node alike, declared here because
 * this package is compiled with neither's library.
 */
declare const TextDecoder: new (
  label: "utf-8",
  options: { readonly fatal: true },
) => { decode(bytes: Uint8Array): string };
declare const TextEncoder: new () => { encode(text: string): Uint8Array };

/**
 * Strict UTF-8 to text; a byte-order mark at the front is dropped.
 *
 * @throws TypeError when the bytes are not valid UTF-8
 */
export function fromUtf8(bytes: Uint8Array): string {
  return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
}

/**
 * Text to UTF-8.
 *
 * @throws Error when the text holds a lone surrogate, which UTF-8 cannot carry and an encoder would replace in silence
 */
export function toUtf8(text: string): Uint8Array {
  if (/\p{Surrogate}/u.test(text)) throw new Error("the text is not well-formed Unicode: it holds a lone surrogate");
  return new TextEncoder().encode(text);
}
