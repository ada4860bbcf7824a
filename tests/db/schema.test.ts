import { getTableColumns, getTableName } from 'drizzle-orm'
import { getTableConfig } from 'drizzle-orm/pg-core'
import { describe, expect, it } from 'vitest'
import { schema } from '@/db/schema'

const { sites, machines, savedViews, reportRuns, siteVersions, monthEvents, ...large } = schema

describe('the tables', () => {
  it('know their site in every row', () => {
    for (const table of Object.values(large)) expect(Object.keys(getTableColumns(table))).toContain('siteId')
    expect(Object.keys(getTableColumns(machines))).toContain('siteId')
    expect(getTableName(sites)).toBe('sites')
  })

  it('have keys that begin with the site where they belong to no machine', () => {
    for (const table of [savedViews, reportRuns, siteVersions, monthEvents])
      expect(getTableConfig(table).primaryKeys[0].columns[0].name, getTableName(table)).toBe('site_id')
  })

  it('have keys that begin with the machine, so that they can be spread over nodes', () => {
    for (const table of Object.values(large)) {
      const [key] = getTableConfig(table).primaryKeys
      expect(key.columns[0].name, getTableName(table)).toBe('machine_id')
    }
  })
})
