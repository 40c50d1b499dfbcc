// Package store keeps one job's folder: plain files and their history in git.
// It is the only package that writes files or touches git, and it knows nothing
// of records, plans or sign-offs.
//
// # Saved means saved
//
// A file is written beside its final name, flushed, renamed, and the folder is
// flushed; only then does a write return. After a power cut or a kill a reader
// sees the old file or the new one, never a part. The commit follows. If it
// fails the files stay, the error is [ErrNotInHistory], and the next operation
// commits what is there.
//
// # One operation at a time
//
// [Repo.Lock] starts an [Operation], one locked read-change-write. It takes an
// advisory lock of the operating system, which is freed when its holder dies,
// and inside it git's own index.lock, so that plain git and desktop clients
// keep out while this program writes and this program waits while they do. The
// lock says who holds it. One left by a dead process of this machine is removed
// and said in [Operation.Notes]; another machine's is named and left alone.
//
// # Order of a commit
//
// First the new objects (flushed, renamed, folders flushed), then the index,
// last the branch, which is moved under git's own branch lock after comparing
// it with the commit that was built on. A history that points at something not
// yet on disk is therefore impossible; an index that runs ahead of the branch
// is possible after a kill, shows as "added" in plain git, and is what the next
// operation commits. Trees are made from the head commit's trees and the
// changed paths alone, so that a commit costs the same after 5,000 of them.
//
// # What go-git does here, and what it does not
//
// go-git reads packs and the git configuration, encodes and decodes commits,
// and makes packs. It never gets a file system that it could write to: it
// rewrites index and branch in place, without flushing, and its RepackObjects
// deletes loose objects before the new pack has its name. Every byte that this
// package stores goes through the file operations of [Folder], which is also
// where tests listen and make operations fail.
//
// # What is on disk
//
//	<job>/.git/                     an ordinary git repository, branch main
//	<job>/.git/proveout/lock        the file the advisory lock is taken on
//	<job>/.git/proveout/tmp/        new objects, index and branch before their rename
//	<job>/**/.proveout-*.tmp        a file before its rename; ignored by git, removed by the next operation
//
// An object is re-hashed whenever it is read: content that does not match its
// name is [ErrCorrupt], also where go-git would have returned it.
package store
