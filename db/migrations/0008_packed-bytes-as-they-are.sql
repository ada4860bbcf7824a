-- These bytes are packed already: to try it again took the database most of the time of storing them.
ALTER TABLE "sample_chunks" ALTER COLUMN "bytes" SET STORAGE EXTERNAL;
--> statement-breakpoint
ALTER TABLE "envelope_chunks" ALTER COLUMN "bytes" SET STORAGE EXTERNAL;
--> statement-breakpoint
ALTER TABLE "log_files" ALTER COLUMN "bytes" SET STORAGE EXTERNAL;
