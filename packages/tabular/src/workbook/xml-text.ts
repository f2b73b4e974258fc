/** A text inside an element or an attribute of XML. What XML cannot carry must be escaped before. */
export function xmlText(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}
