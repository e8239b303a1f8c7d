/** Every fault of a request as a status and a sentence; no stack trace leaves the house. */
import type { FastifyInstance } from 'fastify';
import { DeskFault, reasonOf } from '../files/faults.ts';
import { EngineRefusal } from './guard.ts';

/** @param mostBody the largest body that is read [byte], named where one is larger */
export function answerFaults(server: FastifyInstance, mostBody: number): void {
  server.setErrorHandler((error, _request, reply) => {
    const { status, message } = faultOf(error, mostBody);
    return reply.code(status).send({ status, message });
  });
}

function faultOf(error: unknown, mostBody: number): { status: number; message: string } {
  if (error instanceof EngineRefusal) return { status: error.statusCode, message: error.message };
  if (error instanceof DeskFault) return { status: error.status === 2 ? 400 : 422, message: error.message };
  const code = (error as { statusCode?: number }).statusCode;
  if (typeof code === 'number' && code >= 400 && code < 500) {
    const large = code === 413 ? `The body is larger than ${mostBody / 1024 / 1024} MiB.` : reasonOf(error);
    return { status: code, message: large };
  }
  return { status: 500, message: `The engine could not do that: ${reasonOf(error)}.` };
}
