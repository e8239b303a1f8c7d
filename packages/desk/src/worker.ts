/** One thread of the pool: takes a task, does it with its own kernel and room, answers with the value or a sentence. */
import sharp from 'sharp';
import { parentPort, workerData } from 'node:worker_threads';
import { reasonOf } from './files/faults.ts';
import type { ThreadAnswer, ThreadStart } from './measure/pool.ts';
import { openBench } from './measure/bench.ts';
import { openSharedMemory } from './measure/shared-memory.ts';
import { runTask, type TaskName, type TaskRequest } from './measure/tasks.ts';

// The threads of the pool are the cores' work; decoded pictures are not asked for twice.
sharp.concurrency(1);
sharp.cache(false);

const { shared, seat } = workerData as ThreadStart;
const bench = openBench(openSharedMemory(shared, seat));
const port = parentPort;

port?.on('message', (message: { name: TaskName; request: TaskRequest<TaskName> }) => {
  void (async () => {
    const say = (answer: ThreadAnswer, transfer: ArrayBuffer[] = []) => port.postMessage(answer, transfer);
    const isWorn = () =>
      bench.then(
        ({ room }) => room.worn,
        () => false,
      );
    try {
      const { value, transfer } = await runTask(await bench, message.name, message.request, (progress) =>
        say({ is: 'progress', ...progress }),
      );
      say({ is: 'value', value, worn: await isWorn() }, transfer);
    } catch (error) {
      say({ is: 'fault', message: reasonOf(error), worn: await isWorn() });
    }
  })();
});
