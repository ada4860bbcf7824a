/** A file to be saved under a name of letters, digits, dots and hyphens. */
export function download(bytes: Uint8Array | string, type: string, fileName: string): Response {
  return new Response(typeof bytes === 'string' ? bytes : new Uint8Array(bytes), {
    headers: {
      'Content-Type': type,
      'Content-Disposition': `attachment; filename="${fileName}"`,
      'Cache-Control': 'no-store',
      'X-Content-Type-Options': 'nosniff',
    },
  })
}

export const FILE_TYPES = {
  pdf: 'application/pdf',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  csv: 'text/csv; charset=utf-8',
} as const
