import { storableText } from '@/app/_jobs/storable'

const LONGEST_NAME = 200
const UNNAMED = 'log.csv'

/** A name without folders or control characters. */
function plainName(name: string): string {
  const last = name.split(/[/\\]/).pop() ?? ''
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
  return storableText(last.replace(/[\u0000-\u001f\u007f]/g, ''))
    .trim()
    .slice(0, LONGEST_NAME)
}

/** The name in a Content-Disposition header (RFC 6266), its extended form first. */
function dispositionName(header: string | null): string | null {
  if (!header) return null
  const extended = /filename\*\s*=\s*UTF-8''([^;]+)/i.exec(header)
  if (extended)
    try {
      return decodeURIComponent(extended[1].trim())
    } catch {
      // Badly escaped: the plain form may still do.
    }
  const plain = /filename\s*=\s*(?:"((?:[^"\\]|\\.)*)"|([^;]+))/i.exec(header)
  return plain ? (plain[1]?.replace(/\\(.)/g, '$1') ?? plain[2]).trim() : null
}

/** What the file is called: `?name=`, else Content-Disposition, else the name it was sent under before. */
export function uploadName(request: Request, sentAs: string | null = null): string {
  const asked = new URL(request.url).searchParams.get('name')
  const named = asked ?? dispositionName(request.headers.get('content-disposition')) ?? sentAs
  return plainName(named ?? '') || UNNAMED
}

/** What a file is called that was uploaded before. */
export const sentName = (sentAs: string | null): string => plainName(sentAs ?? '') || UNNAMED

/** A Content-Disposition that saves the file under its name, whatever characters that has (RFC 6266, RFC 8187). */
export function attachment(fileName: string): string {
  const ascii = fileName.replace(/[^\x20-\x7e]|["\\]/g, '_')
  const escaped = encodeURIComponent(fileName).replace(/['()*]/g, (c) => `%${c.charCodeAt(0).toString(16)}`)
  return `attachment; filename="${ascii}"; filename*=UTF-8''${escaped}`
}
