import PDFDocument from "pdfkit";

/** What stands in a file's properties. */
export interface PdfProperties {
  readonly title: string;
  readonly subject: string;
  readonly keywords: string;
  readonly creator: string;
  /** `YYYY-MM-DD`; a file without it bears no date. */
  readonly date?: string;
}

/** Stands for the date while the library makes the file's identifier, which then follows from the content alone. */
const NO_CLOCK = { getTime: () => 0, valueOf: () => 0 };

const xml = (text: string) =>
  text.replace(/[&<>"]/g, (character) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[character]!);

/** A tagged PDF under way. Its bytes are gathered as they are written; nothing waits and no clock is read. */
export class TaggedPdf extends PDFDocument {
  /** Written from the base class's constructor on, before fields of this one are set: hence no initial value. */
  declare private chunks: Uint8Array[] | undefined;
  private readonly properties: PdfProperties;

  constructor(properties: PdfProperties, margins: Readonly<Record<"left" | "right" | "top" | "bottom", number>>) {
    const { title, subject, keywords, creator } = properties;
    super({
      size: "A4",
      margins,
      pdfVersion: "1.7",
      tagged: true,
      lang: "en",
      displayTitle: true,
      bufferPages: true,
      autoFirstPage: false,
      font: null,
      info: {
        Title: title,
        Subject: subject,
        Keywords: keywords,
        Creator: creator,
        Producer: creator,
        CreationDate: NO_CLOCK,
      },
    });
    this.properties = properties;
    delete this.info["CreationDate"];
    if (properties.date !== undefined) this.info["CreationDate"] = `D:${properties.date.replaceAll("-", "")}`;
  }

  override push(chunk: Uint8Array | null): boolean {
    this.chunks ??= [];
    if (chunk) this.chunks.push(chunk);
    return true;
  }

  /** The library writes a date and leaves characters as they are that XML forbids: here is its own part, put right. */
  _addInfo(): void {
    const { title, subject, keywords, creator, date } = this.properties;
    this.appendXML(
      `<rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/">
${date === undefined ? "" : `<xmp:CreateDate>${date}</xmp:CreateDate>\n`}<xmp:CreatorTool>${xml(creator)}</xmp:CreatorTool>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">${xml(title)}</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">${xml(subject)}</rdf:li></rdf:Alt></dc:description>
<pdf:Producer>${xml(creator)}</pdf:Producer><pdf:Keywords>${xml(keywords)}</pdf:Keywords>
</rdf:Description>`,
    );
  }

  /** Ends the document; its bytes in one piece. */
  bytes(): Uint8Array {
    this.end();
    const chunks = this.chunks ?? [];
    const whole = new Uint8Array(chunks.reduce((total, chunk) => total + chunk.length, 0));
    let offset = 0;
    for (const chunk of chunks) {
      whole.set(chunk, offset);
      offset += chunk.length;
    }
    return whole;
  }
}
