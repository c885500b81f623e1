// Package farend speaks to the places that a site can be brought to: a folder
// (Folder), and by Open a server that is reached by SFTP, by FTP under TLS, or by the
// protocol of S3.
//
// Each is a publish.FarEnd and keeps its contract as well as its protocol can: a file
// is written under a name of its own, by chance, and renamed over the old one; what a
// server takes for written is looked at before that; a line that is dead without a
// word is noticed, since every read and write has a deadline.
//
// # Secrets
//
// Passwords and passphrases come from Options.Secret alone, when a server wants them,
// and stand in no error. Host keys are held against known_hosts, certificates against
// the system's; Options.Fingerprint names one to trust instead.
package farend
