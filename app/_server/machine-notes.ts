import { storableText } from '@/app/_jobs/storable'

/** Line and trade beside MACHINE.json: `?line=` and `?trade=`; left out means as it is, empty means none. */
export function machineNotes(request: Request): { line?: string | null; trade?: string | null } {
  const params = new URL(request.url).searchParams
  const asked = (name: string) => {
    const text = params.get(name)
    return text === null ? undefined : storableText(text.trim()) || null
  }
  return { line: asked('line'), trade: asked('trade') }
}
