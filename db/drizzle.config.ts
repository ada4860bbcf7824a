import { defineConfig } from 'drizzle-kit'

// Run from the top of the repository: npm run migrate:new -- --name what-changes
export default defineConfig({
  dialect: 'postgresql',
  schema: './db/schema/*.ts',
  out: './db/migrations',
})
