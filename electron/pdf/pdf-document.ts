/** A pdfkit document. */
export type Pdf = PDFKit.PDFDocument;

/** An element of the document's structure: what a screen reader reads. */
export type Struct = ReturnType<Pdf['struct']>;
