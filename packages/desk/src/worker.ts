/** One thread of the pool: takes a task, does it with its own kernel and buffers, answers with the value or a sentence. */
import { parentPort } from 'node:worker_threads';
import { reasonOf } from './files/faults.ts';
import type { ThreadAnswer } from './measure/pool.ts';
import { openBench } from './measure/bench.ts';
import { runTask, type TaskName, type TaskRequest } from './measure/tasks.ts';

const bench = openBench();
const port = parentPort;

port?.on('message', (message: { name: TaskName; request: TaskRequest<TaskName> }) => {
  void (async () => {
    try {
      const { value, transfer } = await runTask(await bench, message.name, message.request, (progress) =>
        port.postMessage({ is: 'progress', ...progress } satisfies ThreadAnswer),
      );
      port.postMessage({ is: 'value', value } satisfies ThreadAnswer, transfer);
    } catch (error) {
      port.postMessage({ is: 'fault', message: reasonOf(error) } satisfies ThreadAnswer);
    }
  })();
});
