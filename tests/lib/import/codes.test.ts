import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { IMPORT_ERROR_CODES, IMPORT_PROBLEM_CODES } from '@/lib/import/codes'

const folder = fileURLToPath(new URL('../../../lib/import/', import.meta.url))
const source = readdirSync(folder)
  .filter((name) => name !== 'codes.ts')
  .map((name) => readFileSync(folder + name, 'utf8'))
  .join('\n')

it.each([...IMPORT_PROBLEM_CODES, ...IMPORT_ERROR_CODES])('%s is raised somewhere in the reader', (code) => {
  expect(source).toContain(`'${code}'`)
})
