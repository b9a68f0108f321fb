// Package visit keeps one diagnosis on record.
//
// A [Visit] is a [Header] (who, where, with which meter, from which step on)
// and its [Record] values in the order they happened: answers, steps back,
// changed answers, readings supplied as a sheet, changed details, a test after
// repair. It is written as lines, one record each, through a [Log] that
// someone else keeps on disk; [Read] turns the lines back into a Visit and
// says which of them cannot be trusted. [Visit.Replay] walks the record
// through a forest again and says which answers still stand there.
//
// The package touches no disk and has no clock: times come in as arguments.
package visit
