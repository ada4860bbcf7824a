import type { Metadata } from 'next'
import { PageHead } from '@/app/_ui/page-head'
import { MachineForm } from '@/app/_ui/setup/machine-form'

export const metadata: Metadata = { title: 'New machine' }

/** Set-up of a machine that is not there yet. */
export default function NewMachinePage() {
  return (
    <>
      <PageHead
        title="New machine"
        about="From the nameplates of motor, pump and relief; or paste it as JSON below"
      />
      <MachineForm id={null} machine={null} line="" trade="" seen={null} />
    </>
  )
}
