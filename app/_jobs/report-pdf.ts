import { existsSync } from 'node:fs'
import { TankwardError } from '@/lib/errors'

const PATIENCE_MS = 60_000
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** Where Chromium is: CHROMIUM_PATH, else Debian's place; null where there is none. */
export function chromiumPath(): string | null {
  const path = process.env.CHROMIUM_PATH || '/usr/bin/chromium'
  return existsSync(path) ? path : null
}

/** The address of this very server: it listens on loopback, at the port it was started with. */
const ownAddress = () => `http://127.0.0.1:${process.env.PORT ?? '3000'}`

const escaped = (text: string) => text.replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`)
const edge = (inside: string) =>
  `<div style="font: 7.5pt sans-serif; color: #444; width: 100%; margin: 0 14mm; display: flex; justify-content: space-between">${inside}</div>`

/**
 * Prints a page of this app to A4 with header, footer and page numbers.
 * @throws TankwardError `no-browser` without Chromium, `report-page-failed` where the page does not come
 */
export async function printPage(path: string, title: string): Promise<Uint8Array> {
  const executablePath = chromiumPath()
  if (!executablePath) throw new TankwardError('no-browser')
  const { chromium } = await import('playwright-core')
  const browser = await chromium.launch({ executablePath, args: FLAGS, timeout: PATIENCE_MS })
  try {
    const page = await browser.newPage({ colorScheme: 'light' })
    page.setDefaultTimeout(PATIENCE_MS)
    const answer = await page.goto(`${ownAddress()}${path}`, { waitUntil: 'networkidle' })
    if (!answer?.ok())
      throw new TankwardError('report-page-failed', { path, status: answer?.status() ?? null })
    return await page.pdf({
      format: 'A4',
      margin: { top: '18mm', bottom: '16mm', left: '14mm', right: '14mm' },
      printBackground: true,
      displayHeaderFooter: true,
      headerTemplate: edge(`<span>${escaped(title)}</span><span>Tankward</span>`),
      footerTemplate: edge(
        '<span>Tankward advises. Local codes, the machine’s manual and a qualified person decide.</span><span>page <span class="pageNumber"></span> of <span class="totalPages"></span></span>',
      ),
      outline: true,
      tagged: true,
    })
  } finally {
    await browser.close()
  }
}
