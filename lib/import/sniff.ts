import type { ImportErrorCode } from './codes'
import { importError } from './fail'

const MAGIC: readonly (readonly [ImportErrorCode, readonly number[]])[] = [
  ['file-image', [0x89, 0x50, 0x4e, 0x47]],
  ['file-image', [0xff, 0xd8, 0xff]],
  ['file-image', [0x47, 0x49, 0x46, 0x38]],
  ['file-image', [0x42, 0x4d, -1, -1, -1, -1, 0, 0]],
  ['file-image', [0x49, 0x49, 0x2a, 0x00]],
  ['file-image', [0x4d, 0x4d, 0x00, 0x2a]],
  ['file-image', [0x52, 0x49, 0x46, 0x46, -1, -1, -1, -1, 0x57, 0x45, 0x42, 0x50]],
  ['file-pdf', [0x25, 0x50, 0x44, 0x46]],
  ['file-spreadsheet', [0xd0, 0xcf, 0x11, 0xe0]],
  ['file-gzip', [0x1f, 0x8b]],
  ['file-archive', [0x52, 0x61, 0x72, 0x21]],
  ['file-archive', [0x37, 0x7a, 0xbc, 0xaf]],
  ['file-archive', [0x28, 0xb5, 0x2f, 0xfd]],
  ['file-archive', [0x42, 0x5a, 0x68]],
  ['file-binary', [0x7f, 0x45, 0x4c, 0x46]],
]

function startsWith(head: Uint8Array, magic: readonly number[]): boolean {
  return head.length >= magic.length && magic.every((byte, i) => byte < 0 || head[i] === byte)
}

function ascii(head: Uint8Array, length: number): string {
  let text = ''
  for (let i = 0; i < Math.min(length, head.length); i++) text += String.fromCharCode(head[i])
  return text
}

/** A zip is a spreadsheet where its first entries carry an office document's names. */
function zipCode(head: Uint8Array): ImportErrorCode {
  const names = /\[Content_Types\]\.xml|xl\/|_rels\/|mimetypeapplication\/vnd\.oasis/
  return names.test(ascii(head, 4096)) ? 'file-spreadsheet' : 'file-archive'
}

/** Share of zero bytes at even and at odd places: text in UTF-16 has one of them high. */
function zeroShares(head: Uint8Array): { even: number; odd: number } {
  const length = Math.min(head.length, 4096)
  let even = 0
  let odd = 0
  for (let i = 0; i < length; i++) if (head[i] === 0) i % 2 === 0 ? even++ : odd++
  return { even: (2 * even) / length, odd: (2 * odd) / length }
}

function isUtf8(head: Uint8Array, complete: boolean): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(head, { stream: !complete })
    return true
  } catch {
    return false
  }
}

/**
 * The text encoding of a file from its first bytes: a byte order mark, the pattern of zero bytes,
 * else UTF-8 where the bytes are valid and Windows-1252 where they are not.
 * @throws TankwardError where the bytes are no text table (empty, image, spreadsheet, page, …)
 */
export function sniffEncoding(head: Uint8Array, complete: boolean, fileName: string): string {
  if (head.length === 0) throw importError('file-empty', { fileName })
  for (const [code, magic] of MAGIC) if (startsWith(head, magic)) throw importError(code, { fileName })
  if (startsWith(head, [0x50, 0x4b, 0x03, 0x04])) throw importError(zipCode(head), { fileName })
  if (head[0] === 0xff && head[1] === 0xfe) return 'utf-16le'
  if (head[0] === 0xfe && head[1] === 0xff) return 'utf-16be'
  const zeros = zeroShares(head)
  if (zeros.odd > 0.4 && zeros.even < 0.05) return 'utf-16le'
  if (zeros.even > 0.4 && zeros.odd < 0.05) return 'utf-16be'
  const encoding = isUtf8(head, complete) ? 'utf-8' : 'windows-1252'
  refuseOtherText(head, fileName)
  return encoding
}

function refuseOtherText(head: Uint8Array, fileName: string): void {
  const first = head.subarray(0, 65_536)
  // NULs behind the text are what a memory card had free, not damage.
  const sample = first.subarray(0, first.findLastIndex((byte) => byte !== 0) + 1)
  if (sample.length === 0) throw importError('file-binary', { fileName })
  let control = 0
  for (const byte of sample) if (byte < 9 || (byte > 13 && byte < 32) || byte === 127) control++
  // A few stray bytes are damage in a log; more than that is no text.
  if (control > Math.max(8, sample.length * 0.02)) throw importError('file-binary', { fileName })
  const start = ascii(head, 1024).replace(/^ï»¿/, '').trimStart().toLowerCase()
  if (start === '') return
  if (/^<(?:!doctype html|html|head|body|table|\?php)/.test(start) || /^<!--[^>]*>\s*<html/.test(start)) {
    throw importError('file-html', { fileName })
  }
  if (start.startsWith('<?xml') || start.startsWith('<svg')) throw importError('file-xml', { fileName })
  if (/^[[{]\s*(?:["{[\]}])/.test(start)) throw importError('file-json', { fileName })
}
