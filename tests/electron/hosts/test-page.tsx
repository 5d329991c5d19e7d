// A page for the host tests: the real bridge, and the components that write a style of their own into the page.
import '../../../renderer/plain-validation.ts'
import { createRoot } from 'react-dom/client'
import {
  Button,
  Dialog,
  DialogTrigger,
  Heading,
  ListBox,
  ListBoxItem,
  Modal,
  Popover,
  Select,
  SelectValue,
} from 'react-aria-components'
import { ask } from '../../../renderer/bridge.ts'
import { records } from '../../../core/job/index.ts'

// The stand-in program answers every call with the same; the title tells the test what came back.
const askAndTell = async () => {
  const answer = await ask('shelf.read', {})
  document.title = answer.ok ? `answered ${JSON.stringify(answer.value)}` : `refused ${answer.problem.code}`
}

const Page = () => (
  <main>
    <h1>Host test</h1>
    <Button onPress={() => void askAndTell()}>Ask</Button>
    <DialogTrigger>
      <Button>Open</Button>
      <Modal>
        <Dialog>
          <Heading slot="title">Dialog</Heading>
          <Button slot="close">Close</Button>
        </Dialog>
      </Modal>
    </DialogTrigger>
    <Select aria-label="Hand">
      <Button>
        <SelectValue />
      </Button>
      <Popover>
        <ListBox>
          <ListBoxItem>LH</ListBoxItem>
          <ListBoxItem>RH</ListBoxItem>
        </ListBox>
      </Popover>
    </Select>
    <p>{Object.keys(records).length} kinds of record</p>
  </main>
)

const root = document.getElementById('root')
if (root !== null) createRoot(root).render(<Page />)

void askAndTell()
