/** @type {import('next').NextConfig} */
const config = {
  // PGlite ships WebAssembly beside its module and must be loaded as it is.
  serverExternalPackages: [
    '@electric-sql/pglite',
    'postgres',
    'proper-lockfile',
    'playwright-core',
    'exceljs',
  ],
  poweredByHeader: false,
}

export default config
