/** What the printed file is made of, in this order; apart from the pages, whose font and writer are fetched only when somebody asks. */
export const pdfParts = ['template', 'assembly', 'before-power', 'dummies'] as const
export type PdfPart = (typeof pdfParts)[number]
