import { expect, it } from 'vitest'
import { findLog } from '@/db/queries/logs'
import { deleteMachine, findMachine, insertMachine, listMachines, updateMachine } from '@/db/queries/machines'
import { DEFAULT_SITE_ID, ensureDefaultSite, saveSite, siteSettings } from '@/db/queries/sites'
import { siteSchema } from '@/lib/contract/site'
import { BALER } from '../../invented/baler'
import { onBothDatabases } from '../databases'
import { newLog, newMachine } from '../fixtures'

onBothDatabases('queries/sites and queries/machines', (opened) => {
  it('begin with one site at the stated defaults, and keep what was set when opened again', async () => {
    const { db } = opened()
    expect(await siteSettings(db)).toEqual(siteSchema.parse({}))
    const settings = siteSchema.parse({ name: 'Werk Süd', currency: 'CHF', energyPricePerKWh: 0.31 })
    await saveSite(db, settings)
    await ensureDefaultSite(db)
    expect(await siteSettings(db)).toEqual(settings)
    await expect(siteSettings(db, 'elsewhere')).rejects.toThrow('elsewhere')
  })

  it('keep a machine as it was validated, under an id given once', async () => {
    const { db } = opened()
    const machine = { id: 'baler-2', siteId: DEFAULT_SITE_ID, line: 'A', trade: 'baler', config: BALER }
    expect(await insertMachine(db, machine)).toBe(true)
    expect(await insertMachine(db, machine)).toBe(false)
    expect(await findMachine(db, 'baler-2')).toMatchObject({ name: 'Baler 2', line: 'A', config: BALER })
    expect((await listMachines(db)).map(({ id }) => id)).toContain('baler-2')
  })

  it('change a set-up and leave line and trade where nothing is said of them', async () => {
    const { db } = opened()
    const id = await newMachine(db)
    await updateMachine(db, id, { config: BALER, line: 'B' })
    expect(await updateMachine(db, id, { config: { ...BALER, name: 'Baler 3' } })).toBe(true)
    expect(await findMachine(db, id)).toMatchObject({
      name: 'Baler 3',
      line: 'B',
      config: { name: 'Baler 3' },
    })
    expect(await updateMachine(db, 'nobody', { config: BALER })).toBe(false)
  })

  it('delete a machine with its logs', async () => {
    const { db } = opened()
    const id = await newMachine(db)
    const { logId } = await newLog(db, id)
    expect(await deleteMachine(db, id)).toBe(true)
    expect(await findLog(db, logId)).toBeNull()
    expect(await deleteMachine(db, id)).toBe(false)
  })
})
