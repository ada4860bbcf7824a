import { expect, it } from 'vitest'
import { savedViewSchema } from '@/app/_server/views/saved-views'
import { DELETE, PUT } from '@/app/api/views/[view]/route'
import { GET } from '@/app/api/views/route'
import { apiDatabase, jsonRequest, noParams, params, problemOf, request } from './harness'

apiDatabase()

const put = (id: string, body: unknown) =>
  PUT(jsonRequest(`/api/views/${id}`, 'PUT', body), params({ view: id }))
const remove = (id: string) => DELETE(request(`/api/views/${id}`, { method: 'DELETE' }), params({ view: id }))
const all = async () =>
  savedViewSchema.array().parse((await (await GET(request('/api/views'), noParams)).json()).views)

const IDLE = { page: 'machines', name: 'Most idle', query: 'sort=idle.desc&line=Line+A' }

it('keeps a view of a page under an id of the sender’s choice, renames it and gives it back after it was deleted', async () => {
  expect(await all()).toEqual([])
  const made = await put('most-idle', { ...IDLE, name: '  Most idle ' })
  expect(await made.json()).toEqual({ id: 'most-idle', ...IDLE })
  await put('dear', { page: 'funding', name: 'Ten thousand', query: 'budget=10000' })
  expect((await all()).map(({ id, page }) => [id, page]).sort()).toEqual([
    ['dear', 'funding'],
    ['most-idle', 'machines'],
  ])
  await put('most-idle', { ...IDLE, name: 'Idle first' })
  expect((await all()).find(({ id }) => id === 'most-idle')).toEqual({
    id: 'most-idle',
    ...IDLE,
    name: 'Idle first',
  })

  expect((await remove('most-idle')).status).toBe(204)
  await problemOf(await remove('most-idle'), 404, 'unknown-view')
  expect((await all()).map(({ id }) => id)).toEqual(['dear'])
  await put('most-idle', IDLE)
  expect(await all()).toContainEqual({ id: 'most-idle', ...IDLE })
})

it('refuses a page that has no views, a name of nothing and an address without end', async () => {
  const paths = async (body: unknown) => {
    const { issues } = await problemOf(await put('bad', body), 422, 'invalid-shape')
    return issues.map((issue: { path: string[] }) => issue.path.join('.'))
  }
  expect(await paths({ ...IDLE, page: 'upload' })).toEqual(['page'])
  expect(await paths({ ...IDLE, name: '  ' })).toEqual(['name'])
  expect(await paths({ ...IDLE, query: 'q='.padEnd(4001, 'x') })).toEqual(['query'])
})
