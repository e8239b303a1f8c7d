/** Meeting by a file, both ways: through the phone's share sheet where there is one, else saved and chosen. */
import { useSignal } from '@preact/signals';
import { exchangeFile, takeFile } from '../field/notebook.ts';

export function ByFile({ from }: { from: string }) {
  const said = useSignal<string | null>(null);
  const give = async () => {
    const bytes = await exchangeFile(from);
    if (bytes === null) {
      said.value = 'The notebook is not open.';
      return;
    }
    // The name says the day and nothing of what is inside.
    const name = `notebook-${new Date().toISOString().slice(0, 10)}.tepal-exchange`;
    const file = new File([bytes], name, { type: 'application/octet-stream' });
    if (navigator.canShare?.({ files: [file] }) === true) {
      try {
        await navigator.share({ files: [file] });
        said.value = 'Handed over.';
      } catch {
        said.value = 'It was not handed over; the notebook is as it was.';
      }
      return;
    }
    const address = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = address;
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(address), 10_000);
    said.value = `${name} is in your downloads.`;
  };
  const take = async (file: File | undefined) => {
    if (file === undefined) return;
    const fault = await takeFile(new Uint8Array(await file.arrayBuffer()));
    said.value = fault ?? `What ${file.name} held is in this notebook now.`;
  };
  return (
    <>
      <p class="faint">
        Without a network: save the notebook to a file, bring it to the other device by any way you like, and
        take it in there. The file holds every place in the notebook; give it to your own devices only.
      </p>
      <div class="buttons">
        <button onClick={() => void give()}>Save the notebook to a file</button>
        <label class="button">
          Take a file in
          <input
            class="unseen"
            type="file"
            accept=".tepal-exchange"
            onChange={(event) => void take(event.currentTarget.files?.[0])}
          />
        </label>
        <span aria-live="polite">{said.value}</span>
      </div>
    </>
  );
}
