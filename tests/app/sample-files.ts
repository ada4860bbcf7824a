import { copyFileSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { ArrivedFile } from '@/app/_jobs/import-log'
import { tempFile } from '@/app/_jobs/temp-file'
import { type Machine, machineSchema } from '@/lib/contract/machine'

const FOLDER = join(process.cwd(), 'sample-logs')

export const samplePath = (name: string) => join(FOLDER, name)

/** A sample log's bytes. */
export const sampleBytes = (name: string) => readFileSync(samplePath(name))

/** The machine file of a sample log. */
export function sampleMachine(name: string): Machine {
  return machineSchema.parse(JSON.parse(readFileSync(samplePath(`${name}.machine.json`), 'utf8')))
}

/** A sample log as if it had just been received: a copy that the import may remove. */
export function arrivedSample(fileName: string): ArrivedFile {
  const path = tempFile()
  copyFileSync(samplePath(fileName), path)
  return { path, fileName, diskBytes: statSync(path).size, isPacked: false, packing: 'gzip' }
}

/** Any text as if it had just been received. */
export function arrivedText(fileName: string, text: string): ArrivedFile {
  const path = tempFile()
  writeFileSync(path, text)
  return { path, fileName, diskBytes: statSync(path).size, isPacked: false, packing: 'gzip' }
}
