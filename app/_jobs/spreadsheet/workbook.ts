import { TankwardError } from '@/lib/errors'
import { type Shown, shownByNumber } from './number-formats'
import { readWhole, type ZipParts } from './zip-parts'

const WORKBOOK = 'xl/workbook.xml'
/** Texts that many cells share; a log has few. */
const MOST_TEXT = 256 << 20

export interface SheetPart {
  readonly name: string
  /** The part that holds its rows. */
  readonly part: string
  readonly isHidden: boolean
}

/** What the cells of any sheet refer to. */
export interface Workbook {
  readonly sheets: readonly SheetPart[]
  readonly is1904: boolean
  readonly texts: readonly string[]
  /** How a cell of a style shows a number. */
  readonly shown: readonly Shown[]
}

/** True where the parts are those of a workbook that can be read. */
export const isWorkbook = (parts: ZipParts): boolean => parts.names.has(WORKBOOK)

async function targetsOf(parts: ZipParts): Promise<Map<string, string>> {
  const targets = new Map<string, string>()
  await readWhole(parts, 'xl/_rels/workbook.xml.rels', {
    onOpen(name, { Id, Target }) {
      if (name !== 'Relationship' || !Id || !Target) return
      targets.set(Id, Target.startsWith('/') ? Target.slice(1) : `xl/${Target.replace(/^\.\//, '')}`)
    },
  })
  return targets
}

async function textsOf(parts: ZipParts, fileName: string): Promise<string[]> {
  const texts: string[] = []
  let text = ''
  let length = 0
  let isText = false
  let phonetic = 0
  await readWhole(parts, 'xl/sharedStrings.xml', {
    onOpen(name) {
      if (name === 'si') text = ''
      if (name === 'rPh') phonetic++
      isText = name === 't' && phonetic === 0
    },
    onText(piece) {
      if (!isText) return
      text += piece
      length += piece.length
      if (length > MOST_TEXT)
        throw new TankwardError('spreadsheet-too-large', {
          fileName,
          part: 'xl/sharedStrings.xml',
          mostBytes: MOST_TEXT,
        })
    },
    onClose(name) {
      if (name === 't') isText = false
      if (name === 'rPh') phonetic--
      if (name === 'si') texts.push(text)
    },
  })
  return texts
}

async function shownOf(parts: ZipParts): Promise<Shown[]> {
  const codes = new Map<number, string>()
  const ids: number[] = []
  let inCells = false
  await readWhole(parts, 'xl/styles.xml', {
    onOpen(name, { numFmtId, formatCode }) {
      if (name === 'cellXfs') inCells = true
      else if (name === 'numFmt') codes.set(Number(numFmtId), formatCode ?? '')
      else if (name === 'xf' && inCells) ids.push(Number(numFmtId ?? 0))
    },
    onClose(name) {
      if (name === 'cellXfs') inCells = false
    },
  })
  return ids.map((id) => shownByNumber(id, codes))
}

/** Reads what is said of all sheets. @throws TankwardError as `ZipParts.read` */
export async function readWorkbook(parts: ZipParts, fileName: string): Promise<Workbook> {
  const targets = await targetsOf(parts)
  const sheets: SheetPart[] = []
  let is1904 = false
  await readWhole(parts, WORKBOOK, {
    onOpen(name, attributes) {
      if (name === 'workbookPr') is1904 = /^(?:1|true)$/.test(attributes.date1904 ?? '')
      if (name !== 'sheet') return
      const id = Object.entries(attributes).find(([key]) => /(?:^|:)id$/.test(key))?.[1]
      const part = targets.get(id ?? '')
      const isHidden = (attributes.state ?? 'visible') !== 'visible'
      if (part && parts.names.has(part)) sheets.push({ name: attributes.name ?? '', part, isHidden })
    },
  })
  return { sheets, is1904, texts: await textsOf(parts, fileName), shown: await shownOf(parts) }
}
