export { bufferBytes, factor, gather, invertFactor, layOut, product, scatterAdd, solveRight, solveRightPlain } from './dense';
export { addScaled, describe, dot, multiply, precondition, step, turn } from './mixed';
