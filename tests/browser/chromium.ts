import { existsSync } from 'node:fs'
import { type Browser, chromium } from 'playwright-core'

const HINT =
  'browser tests skipped: no Chromium. Install it (Debian: apt-get install chromium) or set CHROMIUM_PATH.'

/** Where Chromium is: CHROMIUM_PATH, then Debian's place, else null with a hint; on CI its absence is a failure. */
export function findChromium(): string | null {
  const found = [process.env.CHROMIUM_PATH, '/usr/bin/chromium'].find((path) => path && existsSync(path))
  if (found) return found
  if (process.env.CI === 'true') throw new Error(HINT)
  console.warn(HINT)
  return null
}

export function launch(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  })
}
