export { bufferBytes, factor, invertFactor, layOut, product, solveRight, solveRightPlain } from './dense';
export { addScaled, describe, dot, multiply, precondition, step, turn } from './mixed';
