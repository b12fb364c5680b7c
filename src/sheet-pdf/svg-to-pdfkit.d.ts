declare module 'svg-to-pdfkit' {
  /** Draws an SVG at a place of the page that is open, fitted into `width` by `height` points. */
  export default function svgToPdf(
    document: PDFKit.PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: {
      width: number
      height: number
      preserveAspectRatio: string
      assumePt: boolean
      fontCallback(family: string, bold: boolean, italic: boolean): string
      warningCallback(message: string): void
    },
  ): void
}
